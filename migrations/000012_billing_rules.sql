-- An invoice may hold several visits of an account, as one for a month does.

-- The visits of an invoice, each with its date of work, where it was and the certificate that counted on that day.
create table invoice_visits (
  tenant_id uuid not null,
  invoice_id uuid not null,
  account_id uuid not null,
  visit_id uuid not null,
  position integer not null,
  worked_on date not null,
  place text not null,
  area_code text not null,
  certificate_kind text check (certificate_kind in ('resale', 'exempt_use')),
  certificate_number text not null default '',
  primary key (tenant_id, invoice_id, visit_id),
  foreign key (tenant_id, account_id, invoice_id) references invoices (tenant_id, account_id, id),
  foreign key (tenant_id, account_id, visit_id) references visits (tenant_id, account_id, id),
  check ((certificate_kind is null) = (certificate_number = ''))
);
create index invoice_visits_by_visit on invoice_visits (tenant_id, visit_id);
insert into invoice_visits (tenant_id, invoice_id, account_id, visit_id, position, worked_on, place, area_code,
    certificate_kind, certificate_number)
  select i.tenant_id, i.id, i.account_id, i.visit_id, 1, i.worked_on, s.name,
    i.basis #>> '{visits,0,taxSetup,areaCode}', held.kind, coalesce(held.number, '')
  from invoices i
  join visits v on v.tenant_id = i.tenant_id and v.id = i.visit_id
  join sites s on s.tenant_id = v.tenant_id and s.id = v.site_id
  left join lateral (
    select paper ->> 'kind' as kind, paper ->> 'number' as number
    from jsonb_array_elements(i.basis -> 'certificates') paper
    where paper ->> 'number' = i.certificate_number limit 1) held on i.certificate_number <> ''
  where i.kind = 'invoice' and i.visit_id is not null;
call wall('invoice_visits', 'account_id = (select own_account())');
call append_only('invoice_visits');
grant select, insert on invoice_visits to grainwright_staff;
grant select on invoice_visits to grainwright_account;

-- The visit that a line belongs to. An older one has none: its invoice is of one visit.
alter table invoice_lines
  add column visit_id uuid,
  add foreign key (tenant_id, invoice_id, visit_id) references invoice_visits;
-- A fee for a vehicle that was not there is charged once; whoever charges it holds the work order's lock.
create index invoice_lines_fees on invoice_lines (tenant_id, work_order_id) where kind = 'fee';
