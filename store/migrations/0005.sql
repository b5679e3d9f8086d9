-- What is withdrawn and still shown: few rows, which are looked at every minute.
create index ledger_withdrawn on ledger (went) where went != '' and gone = 0;
