//! Batches: scaling, weigh sheet, record.

pub mod agenda;
pub mod code;
pub mod figures;
pub mod formula_state;
pub mod mass;
pub mod plan;
pub mod precaution;
pub mod premix;
pub mod record;
pub mod rounding;
pub mod scale;
pub mod trace;
pub mod weigh_sheet;
pub mod weighing_scale;
pub mod work_order;
pub mod workshop;
