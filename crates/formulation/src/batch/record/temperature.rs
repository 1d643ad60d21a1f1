//! The temperature read at a step, beside the one that is asked for.

use super::point::{Identity, Point};
use super::{Event, Record};
use crate::amount::typed::shown_temperature;
use crate::formula::{ItemId, Step};
use crate::quantity::{Temperature, in_celsius};

/// How far the temperature read at a step may be from the one it asks for, K. A recipe is mostly
/// stated in steps of 5 °C, and a workshop thermometer reads to a kelvin or two; common practice,
/// no source.
pub const READING_OFF_K: f64 = 3.0;

/// What to say of a temperature read at a step that is off from the one it asks for; `None` where
/// it is near enough, or the step asks for none.
pub fn reading_off(step: &Step, read: Temperature) -> Option<String> {
    let asked = step.temperature?;
    let off = in_celsius(read) - in_celsius(asked);
    (off.abs() > READING_OFF_K + 1e-9).then(|| {
        format!(
            "{} was read, {} is asked for",
            shown_temperature(read),
            shown_temperature(asked)
        )
    })
}

impl Record {
    /// A step of the batch.
    fn step(&self, of: ItemId) -> Option<&Step> {
        let phases = self.opening.variant().phases.iter();
        phases.flat_map(|p| &p.steps).find(|s| s.id == of)
    }

    /// What to say of an entry whose temperature is off from what its step asks for.
    pub fn temperature_doubt(&self, event: &Event) -> Option<String> {
        match event {
            Event::Worked {
                step,
                temperature: Some(read),
                ..
            } => reading_off(self.step(*step)?, *read),
            _ => None,
        }
    }

    /// That a step was done at another temperature than it asks for.
    pub(super) fn off_its_temperature(&self, step: &Step) -> Option<Point> {
        let off = reading_off(step, self.read_at(step.id)?)?;
        let identity = Identity::new("temperature").with(step.id.0).with(&off);
        Some(Point::open(
            identity,
            format!("step “{}”: {off}", step.text),
        ))
    }
}
