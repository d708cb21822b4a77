-- Where nobody was there to sign there may be nobody to name who saw it; a refusal still has its witness.

alter table missing_signatures
  drop constraint missing_signatures_witness_check,
  add constraint missing_signatures_witness_check
    check (length(witness) <= 200 and (witness <> '' or why = 'absent'));
