//! When a state has settled: how long after making, or after the last addition, a reading of
//! it is what it stays at. Before that it is a reading of another thing.

use super::book::{Book, RecordedReading};
use super::fit::recovery::Recovery;
use super::reading::{Quantity, time_words};
use super::standing::usual;

/// Share of its end at which a viscosity counts as come back: a rotational viscometer in one's
/// own hands repeats to about so much (from memory, no source).
pub const BACK: f64 = 0.95;

/// On what a time of settling rests.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum SettlingGround {
    /// The recovery of the same step was followed.
    Followed,
    /// The maker stated it.
    Stated,
    /// It is usual: common practice, no source.
    Usual,
}

/// How long a state takes.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Settling {
    /// Hours since it was made or last added to.
    pub hours: f64,
    /// On what that rests.
    pub ground: SettlingGround,
}

impl Settling {
    /// In words: “12 h, common practice, no source”.
    #[must_use]
    pub fn words(&self) -> String {
        let time = time_words(self.hours);
        match self.ground {
            SettlingGround::Followed => format!("{time}, by the recovery that was followed"),
            SettlingGround::Stated => format!("{time}, as you stated"),
            SettlingGround::Usual => format!("{time}, common practice, no source"),
        }
    }
}

/// The time that holds for a quantity where no recovery was followed: the maker's, else what is
/// usual. None where it does not matter.
#[must_use]
pub fn of_quantity(book: &Book, quantity: Quantity) -> Option<Settling> {
    let usual = usual(quantity)?;
    let stated = book.settling.get(&quantity);
    Some(stated.map_or(
        Settling {
            hours: usual,
            ground: SettlingGround::Usual,
        },
        |hours| Settling {
            hours: *hours,
            ground: SettlingGround::Stated,
        },
    ))
}

/// The time that holds for readings of one quantity on one step, made in one way: by their own
/// recovery if it can be fitted, else [`of_quantity`].
#[must_use]
pub fn of_step(book: &Book, quantity: Quantity, alike: &[&RecordedReading]) -> Option<Settling> {
    if quantity == Quantity::Viscosity
        && let Some(hours) = followed(alike)
    {
        return Some(Settling {
            hours,
            ground: SettlingGround::Followed,
        });
    }
    of_quantity(book, quantity)
}

/// Hours after which the viscosity of a step stays within what readings repeat to of its end.
fn followed(alike: &[&RecordedReading]) -> Option<f64> {
    let (hours, values): (Vec<f64>, Vec<f64>) = alike
        .iter()
        .filter(|k| k.set_aside.is_none())
        .filter_map(|k| Some((k.reading.hours?, k.reading.mean()?)))
        .unzip();
    // Fewer say nothing; repeated readings at one time are no recovery.
    let mut times = hours.clone();
    times.sort_by(f64::total_cmp);
    times.dedup();
    if times.len() < 4 {
        return None;
    }
    let recovery = Recovery::fit(&hours, &values).ok()?;
    Some(recovery.time_within(BACK))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trial::reading::Reading;

    fn kept(number: usize, hours: f64, viscosity: f64) -> RecordedReading {
        let reading = Reading {
            hours: Some(hours),
            ..Reading::of(Quantity::Viscosity, vec![viscosity])
        };
        RecordedReading {
            number,
            trial: 1,
            step: 1,
            noted: (String::new(), String::new()),
            reading,
            before: Vec::new(),
            set_aside: None,
            told: false,
        }
    }

    /// By hand: from 1000 to 5000 mPa·s with τ = 6 min is back at 95 % after
    /// 6 min · ln(ln 5 / −ln 0.95) = 20.67 min.
    #[test]
    fn a_recovery_that_was_followed_holds_for_its_step_else_what_was_stated() {
        let value = |min: f64| 5000.0 * (-(5.0_f64.ln()) * (-min / 6.0).exp()).exp();
        let minutes = [1.0, 4.0, 10.0, 20.0, 40.0, 1440.0];
        let all: Vec<RecordedReading> = minutes
            .iter()
            .enumerate()
            .map(|(i, m)| kept(i + 1, m / 60.0, value(*m)))
            .collect();
        let mut book = Book::default();
        let of = |book: &Book, list: &[&RecordedReading]| {
            of_step(book, Quantity::Viscosity, list).unwrap()
        };
        let list: Vec<&RecordedReading> = all.iter().collect();
        let found = of(&book, &list);
        assert_eq!(found.ground, SettlingGround::Followed);
        assert!((found.hours * 60.0 - 20.67).abs() < 0.01, "{found:?}");
        assert_eq!(found.words(), "21 min, by the recovery that was followed");
        assert_eq!(
            of(&book, &list[..3]).words(),
            "12 h, common practice, no source"
        );
        book.settling.insert(Quantity::Viscosity, 0.25);
        assert_eq!(of(&book, &list[..3]).words(), "15 min, as you stated");
        assert_eq!(of_quantity(&book, Quantity::Density), None);
    }
}
