-- A line written up by mistake that photos show already: the photos stay, so the line does, and counts no more.

alter table work_order_lines add column withdrawn_at timestamptz;
