//! Batches: scaling, weigh sheet, record.

pub mod agenda;
pub(crate) mod cost_inputs;
pub mod figures;
pub mod formula_state;
pub mod packaging_plan;
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
pub mod workshop_merge;

pub use crate::{batch_code as code, mass};
