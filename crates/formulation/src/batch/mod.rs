//! Batches: scaling, weigh sheet, record.
