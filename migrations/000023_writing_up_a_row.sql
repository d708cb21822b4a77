-- What makes writing up a row of vehicles quick.

-- For how long the business puts its own repair right without charge: then the same part is offered as a rework.
-- Until now that went by the days that count as a comeback.
alter table businesses add column warranty_days integer not null default 90 check (warranty_days between 0 and 1000);
update businesses set warranty_days = comeback_days;
grant update (warranty_days) on businesses to grainwright_staff;
