//! Batches: scaling, weigh sheet, record.

pub mod code;
pub mod mass;
pub mod rounding;
pub mod weighing_scale;
