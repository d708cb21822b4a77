import {
  type AcceptanceOutcome,
  acceptanceOutcomes,
  type SignerRole,
  signerRoles,
} from '@grainwright/domain';

/** Who answered what, for the path of the work order: whoever writes it down is somebody else. */
export function answerWords(answer: {
  readonly outcome: AcceptanceOutcome;
  readonly remark: string;
  readonly signerName: string;
  readonly signerRole: SignerRole;
}): string {
  const { outcome, remark, signerName, signerRole } = answer;
  const words = acceptanceOutcomes[outcome];
  const who = `${words.charAt(0).toUpperCase()}${words.slice(1)} by ${signerName}, ${signerRoles[signerRole]}`;
  return remark === '' ? `${who}.` : `${who}: ${remark}`;
}
