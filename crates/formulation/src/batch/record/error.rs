//! Why an entry cannot be made.

/// Why an entry cannot be made.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum RecordError {
    /// The first entry is another, or a later one opens again.
    #[error("a record begins with the opening of the batch, once")]
    Opening,
    /// Not the next number.
    #[error(
        "entry {found} stands where {expected} should; the record was changed outside the program"
    )]
    Number {
        /// Found.
        found: u64,
        /// Expected.
        expected: u64,
    },
    /// Closed.
    #[error(
        "the record is closed; only dated corrections, acceptances, checks, dispatches, and what is measured or remarked later can be added"
    )]
    Closed,
    /// No such line, step or entry.
    #[error("{0} is not part of this batch")]
    Unknown(String),
    /// A mass of nothing or below, or beyond the scale of things.
    #[error("a mass must be above 0 and at most 1000 tonnes")]
    Mass,
    /// Words are missing.
    #[error("{0} is missing; type it in")]
    Words(&'static str),
    /// The entry has no such value.
    #[error("entry {0} has no value of that kind to correct")]
    NotCorrectable(u64),
    /// The old value is another.
    #[error("entry {entry} reads “{now}”, not “{told}”; look at it again")]
    Stale {
        /// Which.
        entry: u64,
        /// The value it has.
        now: String,
        /// The value told.
        told: String,
    },
    /// Something that is counted was typed as measured.
    #[error("the {0} is counted from the masses recorded, so it is not typed; record the filling")]
    Counted(&'static str),
    /// A run of no labels.
    #[error("a run of labels has at least one; type how many were printed")]
    NoLabels,
    /// No name.
    #[error("an entry needs a name; type yours under “Done by”")]
    Nameless,
    /// A second check by the same person.
    #[error("{0} did this; a second check is made by somebody else")]
    SamePerson(String),
    /// Nothing to check.
    #[error("{0} is not weighed yet, so there is nothing to check")]
    NothingToCheck(String),
    /// A trial.
    #[error(
        "the batch is a trial that is not for sale: it cannot be released, and none of it can leave"
    )]
    NotForSale,
    /// More left than was filled.
    #[error("{asked} containers cannot leave; {left} of those filled are still here")]
    Dispatch {
        /// Asked for.
        asked: u32,
        /// Still here.
        left: u32,
    },
    /// Not released.
    #[error("the batch is not released, so none of it can leave")]
    NotReleased,
    /// Undecided.
    #[error("decide first whether the batch is released, on hold or rejected")]
    Undecided,
    /// A release in spite of open points: how many.
    #[error("{}; accept each with its reason, or put the batch on hold", open_words(*.0))]
    OpenPoints(usize),
    /// A release without a look at the mix as it was weighed.
    #[error(
        "the mix as it was weighed was not held against the rules, so the batch cannot be released"
    )]
    NotEvaluated,
}

fn open_words(points: usize) -> String {
    match points {
        1 => "1 point is open".to_owned(),
        _ => format!("{points} points are open"),
    }
}

#[cfg(test)]
mod tests {
    use super::RecordError;

    #[test]
    fn open_points_are_counted() {
        let words = |points| RecordError::OpenPoints(points).to_string();
        let what = "accept each with its reason, or put the batch on hold";
        assert_eq!(words(1), format!("1 point is open; {what}"));
        assert_eq!(words(3), format!("3 points are open; {what}"));
    }
}
