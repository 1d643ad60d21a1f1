//! Log reductions of a challenge test, as a laboratory reported them, held against the
//! published criteria A and B of ISO 11930 (`assets/trials/challenge.tsv` names the source).

use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::book::Book;
use super::reading::{Method, Quantity};

const TABLE: &str = include_str!("../../../../assets/trials/challenge.tsv");

/// Deviation in log units that laboratories accept in reading the criteria (from the page of
/// a testing institute).
pub const DEVIATION: f64 = 0.5;

/// An organism of the test.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Organism {
    /// Its name.
    pub name: &'static str,
    /// Its strain.
    pub strain: &'static str,
    group: &'static str,
}

/// What a criterion asks of a group of organisms on a day.
#[derive(Clone, Copy, PartialEq, Debug)]
struct Criterion {
    letter: &'static str,
    group: &'static str,
    day: u32,
    least: f64,
    after: Option<u32>,
}

struct Table {
    organisms: Vec<Organism>,
    demands: Vec<Criterion>,
}

static CRITERIA: LazyLock<Table> = LazyLock::new(|| {
    let mut table = Table {
        organisms: Vec::new(),
        demands: Vec::new(),
    };
    for row in TABLE.lines().filter(|l| !l.starts_with('#')).skip(1) {
        let cells: Vec<&'static str> = row.split('\t').collect();
        match cells.as_slice() {
            ["organism", group, name, strain] => table.organisms.push(Organism {
                name,
                strain,
                group,
            }),
            [criterion, group, day, least, after] => {
                if let (Ok(day), Ok(least)) = (day.parse(), least.parse::<u32>()) {
                    table.demands.push(Criterion {
                        letter: criterion,
                        group,
                        day,
                        least: f64::from(least),
                        after: after.parse().ok(),
                    });
                }
            }
            _ => {}
        }
    }
    table
});

/// The organisms of the test.
#[must_use]
pub fn organisms() -> &'static [Organism] {
    &CRITERIA.organisms
}

/// Days of readings, in order.
#[must_use]
pub fn days() -> Vec<u32> {
    let mut days: Vec<u32> = CRITERIA.demands.iter().map(|d| d.day).collect();
    days.sort_unstable();
    days.dedup();
    days
}

/// How a test stands against a criterion.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum CriterionResult {
    /// All demands are met.
    Met,
    /// Met only with the deviation that laboratories accept; what was below.
    Nearly(Vec<String>),
    /// Not met; where.
    NotMet(Vec<String>),
    /// Readings are missing; which.
    Missing(Vec<String>),
}

/// Log reductions by organism and day.
pub type Reductions = BTreeMap<(String, u32), f64>;

/// The log reductions of a trial; of readings of the same organism and day the newest.
#[must_use]
pub fn reductions(book: &Book, trial: usize) -> Reductions {
    book.readings_of(Quantity::LogReduction)
        .filter(|(t, _)| t.number == trial)
        .filter_map(|(_, k)| match &k.reading.method {
            Method::Challenge { organism, day } => {
                Some(((organism.clone(), *day), k.reading.mean()?))
            }
            _ => None,
        })
        .collect()
}

/// How a test stands against criterion A or B.
#[must_use]
pub fn standing(found: &Reductions, criterion: &str) -> CriterionResult {
    let (mut missing, mut below, mut near) = (Vec::new(), Vec::new(), Vec::new());
    for organism in organisms() {
        let reduction = |day: u32| found.get(&(organism.name.to_owned(), day)).copied();
        let demands = CRITERIA.demands.iter();
        for demand in demands.filter(|d| d.letter == criterion && d.group == organism.group) {
            let place = format!("{}, day {}", organism.name, demand.day);
            let Some(value) = reduction(demand.day) else {
                missing.push(place);
                continue;
            };
            let mut least = demand.least;
            if let Some(day) = demand.after {
                let Some(before) = reduction(day) else {
                    missing.push(format!("{}, day {day}", organism.name));
                    continue;
                };
                least = least.max(before);
            }
            let measure = Quantity::LogReduction.measure();
            let words = format!(
                "{place}: {} instead of {}",
                measure.digits_of(value),
                measure.digits_of(least)
            );
            if value < least - DEVIATION {
                below.push(words);
            } else if value < least {
                near.push(words);
            }
        }
    }
    missing.dedup();
    if !below.is_empty() {
        CriterionResult::NotMet(below)
    } else if !missing.is_empty() {
        CriterionResult::Missing(missing)
    } else if near.is_empty() {
        CriterionResult::Met
    } else {
        CriterionResult::Nearly(near)
    }
}

/// What may be said of a challenge test; none where nothing was reported.
#[must_use]
pub fn words(found: &Reductions) -> Option<String> {
    if found.is_empty() {
        return None;
    }
    let (a, b) = (standing(found, "A"), standing(found, "B"));
    let near = |list: &[String]| {
        format!(
            " with the deviation of {DEVIATION} log units that laboratories accept ({}); ask yours",
            list.join("; ")
        )
    };
    Some(match (a, b) {
        (CriterionResult::Met, _) => "the reported log reductions meet criteria A of ISO 11930".to_owned(),
        (CriterionResult::Nearly(list), _) => format!(
            "the reported log reductions meet criteria A of ISO 11930 only{}",
            near(&list)
        ),
        (_, CriterionResult::Met) => "the reported log reductions meet criteria B of ISO 11930 only: a documented justification from packaging and use is needed".to_owned(),
        (_, CriterionResult::Nearly(list)) => format!(
            "the reported log reductions meet criteria B of ISO 11930 only, and that{}",
            near(&list)
        ),
        (_, CriterionResult::NotMet(list)) => format!(
            "the reported log reductions meet neither criteria A nor B of ISO 11930: {}",
            list.join("; ")
        ),
        (a, CriterionResult::Missing(list)) => {
            let a = match a {
                CriterionResult::NotMet(below) => format!("criteria A of ISO 11930 are not met ({}); ", below.join("; ")),
                _ => String::new(),
            };
            format!("{a}not decided against ISO 11930, missing: {}", list.join("; "))
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Log reductions on days 7, 14 and 28 for bacteria, yeast and mould.
    fn reported(bacteria: [f64; 3], yeast: [f64; 3], mould: [f64; 2]) -> Reductions {
        let mut out = Reductions::new();
        for organism in organisms() {
            let list: Vec<(u32, f64)> = match organism.group {
                "bacteria" => [7, 14, 28].into_iter().zip(bacteria).collect(),
                "yeast" => [7, 14, 28].into_iter().zip(yeast).collect(),
                _ => [14, 28].into_iter().zip(mould).collect(),
            };
            for (day, value) in list {
                out.insert((organism.name.to_owned(), day), value);
            }
        }
        out
    }

    /// ISO 11930:2019 as told on the pages of testing laboratories: at, below and above.
    #[test]
    fn criteria_are_those_of_the_standard() {
        assert_eq!(organisms().len(), 5);
        assert_eq!(days(), [7, 14, 28]);
        let at = reported([3.0, 3.0, 3.0], [1.0, 1.0, 1.0], [0.0, 1.0]);
        assert_eq!(standing(&at, "A"), CriterionResult::Met);
        // Slow: not at day 7, yet at day 14.
        let slow = reported([1.2, 3.0, 3.1], [0.3, 1.0, 1.0], [0.0, 0.2]);
        assert!(matches!(standing(&slow, "A"), CriterionResult::NotMet(_)));
        assert_eq!(standing(&slow, "B"), CriterionResult::Met);
        assert!(words(&slow).unwrap().contains("criteria B"));
        // Growing back after day 14.
        let back = reported([4.0, 5.0, 3.9], [2.0, 2.0, 2.0], [1.0, 1.0]);
        assert!(matches!(standing(&back, "A"), CriterionResult::NotMet(_)));
        assert!(matches!(standing(&back, "B"), CriterionResult::NotMet(_)));
        // A tenth below is within the accepted deviation, and said.
        let near = reported([2.9, 3.0, 3.0], [1.0, 1.0, 1.0], [0.0, 1.0]);
        assert!(matches!(standing(&near, "A"), CriterionResult::Nearly(_)));
        let mut lacking = at;
        lacking.remove(&("Candida albicans".to_owned(), 28));
        assert_eq!(
            standing(&lacking, "B"),
            CriterionResult::Missing(vec!["Candida albicans, day 28".to_owned()])
        );
        assert_eq!(words(&Reductions::new()), None);
    }
}
