//! Something that is to be done on a day, in the workshop or for a stability plan.

use crate::formula::Date;

/// Something that is to be done on a day.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Due {
    /// The day.
    pub day: Date,
    /// The last day on which it is not late; the same day where nothing else was stated.
    pub until: Date,
    /// What is to be done.
    pub what: String,
    /// More about it; may be empty.
    pub more: String,
    /// What tells it from all others, the same every time it is worked out, so that a
    /// calendar replaces it instead of doubling it.
    pub identity: String,
}

/// How something due stands on a day.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum DueState {
    /// It should have been done.
    Overdue,
    /// It is to be done now.
    Now,
    /// Its day comes.
    ToCome,
}

impl DueState {
    /// The word shown for it.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Overdue => "overdue",
            Self::Now => "due now",
            Self::ToCome => "to come",
        }
    }
}

impl Due {
    /// How it stands on a day.
    #[must_use]
    pub fn standing(&self, today: Date) -> DueState {
        if today < self.day {
            DueState::ToCome
        } else if today > self.until.max(self.day) {
            DueState::Overdue
        } else {
            DueState::Now
        }
    }
}

/// Puts a list in the order of its days, and of words on one day.
pub fn by_day(list: &mut [Due]) {
    list.sort_by(|a, b| (a.day, &a.what, &a.identity).cmp(&(b.day, &b.what, &b.identity)));
}

/// What is overdue and what is to be done on a day, in one sentence with the first of it;
/// none if nothing is.
#[must_use]
pub fn summary(list: &[Due], today: Date) -> Option<String> {
    let count = |standing| {
        list.iter()
            .filter(|d| d.standing(today) == standing)
            .count()
    };
    let pressing = |d: &&Due| d.standing(today) != DueState::ToCome;
    let first = list
        .iter()
        .filter(pressing)
        .min_by(|a, b| (a.standing(today), a.day).cmp(&(b.standing(today), b.day)))?;
    let counts = match (count(DueState::Overdue), count(DueState::Now)) {
        (0, now) => format!("{now} due now"),
        (late, 0) => format!("{late} overdue"),
        (late, now) => format!("{late} overdue, {now} due now"),
    };
    Some(
        format!("{counts}: {}", first.what)
            + if list.iter().filter(pressing).count() > 1 {
                " and more"
            } else {
                ""
            },
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn due(day: &str, until: &str, what: &str) -> Due {
        Due {
            day: day.parse().unwrap(),
            until: until.parse().unwrap(),
            what: what.to_owned(),
            more: String::new(),
            identity: what.to_owned(),
        }
    }

    #[test]
    fn something_is_late_only_after_its_last_day() {
        let d = due("2026-03-10", "2026-03-12", "read a sample");
        let at = |day: &str| d.standing(day.parse().unwrap());
        assert_eq!(at("2026-03-09"), DueState::ToCome);
        assert_eq!(at("2026-03-10"), DueState::Now);
        assert_eq!(at("2026-03-12"), DueState::Now);
        assert_eq!(at("2026-03-13"), DueState::Overdue);
    }

    #[test]
    fn the_summary_names_the_most_pressing() {
        let today = "2026-03-10".parse().unwrap();
        let mut list = vec![
            due("2026-03-10", "2026-03-10", "check the scale"),
            due("2026-03-20", "2026-03-20", "later"),
        ];
        assert_eq!(
            summary(&list, today).as_deref(),
            Some("1 due now: check the scale")
        );
        list.push(due("2026-03-01", "2026-03-01", "last day of lot 3"));
        by_day(&mut list);
        assert_eq!(
            summary(&list, today).as_deref(),
            Some("1 overdue, 1 due now: last day of lot 3 and more")
        );
        assert_eq!(summary(&list[2..], today), None);
    }
}
