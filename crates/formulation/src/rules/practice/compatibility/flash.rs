//! The flash point of alcohol with water.

use super::super::{Scene, names};
use crate::finding::{Finding, FindingValue, Level, Limit, Matter};
use crate::material::{Basis, Source};

/// Flash point up to which a liquid is flammable: Regulation (EC) 1272/2008, Annex I, 2.6.2, °C.
pub const FLAMMABLE: f64 = 60.0;

impl Scene<'_> {
    /// The flash point of alcohol with water; what else is in it is left out.
    pub(super) fn flash_point(&self) -> Option<Finding> {
        /// From the warmest workshop on it takes fire at an open flame, °C; our choice.
        const WORKSHOP: f64 = 40.0;
        let water = self.of.composition.water().typical.as_percent();
        let present = &self.present;
        let (group, record) = self
            .table
            .flash_points
            .iter()
            .max_by(|a, b| present.percent(a.0).total_cmp(&present.percent(b.0)))?;
        let alcohol = present.percent(*group);
        if alcohol < 1.0 {
            return None;
        }
        let share = 100.0 * alcohol / (alcohol + water);
        let (first, _) = record.points.first()?;
        if share < *first {
            return None;
        }
        let flash = between(&record.points, share)?;
        if flash > FLAMMABLE {
            return None;
        }
        let places = present.lines(*group);
        let message = format!(
            "{}: {alcohol:.0} % alcohol gives a flash point of about {flash:.0} °C (alcohol and water alone): a flammable liquid. No flame, hot plate or spark nearby, ventilate, small amounts; storing and sending it fall under the rules for flammable liquids. Have the flash point measured.",
            names(self.at(places)),
        );
        let level = if flash < WORKSHOP {
            Level::Caution
        } else {
            Level::Note
        };
        Some(
            Finding::new(
                level,
                "flammable",
                message,
                Source::new(Basis::Estimate, record.source.as_str()),
            )
            .on(self.at(places).map(|l| l.line.id).collect::<Vec<_>>())
            .about(Matter::of("flammable"))
            .against(
                FindingValue::Celsius(flash),
                Limit::AtLeast(FindingValue::Celsius(FLAMMABLE)),
            ),
        )
    }
}

/// Between the points of a table; its ends beyond.
fn between(points: &[(f64, f64)], x: f64) -> Option<f64> {
    let at = points.partition_point(|p| p.0 <= x);
    let after = points.get(at);
    let before = at.checked_sub(1).and_then(|i| points.get(i));
    match (before, after) {
        (Some(a), Some(b)) => Some(a.1 + (b.1 - a.1) * (x - a.0) / (b.0 - a.0)),
        (Some(end), None) | (None, Some(end)) => Some(end.1),
        (None, None) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::super::table;
    use super::*;

    /// Flash points of ethanol with water as handbooks give them (from memory): 24 °C at 42.5 %,
    /// 21 °C at 62.4 % by mass, 12 °C pure (IEC 60079-20-1:2010).
    #[test]
    fn flash_points_of_the_handbook() {
        let table = table().as_ref().unwrap();
        let points = &table.flash_points[0].1.points;
        for (share, published) in [(24.6, 29.0), (42.5, 24.0), (62.4, 21.0), (100.0, 12.0)] {
            let found = between(points, share).unwrap();
            assert!((found - published).abs() < 3.0, "{share}: {found}");
        }
    }
}
