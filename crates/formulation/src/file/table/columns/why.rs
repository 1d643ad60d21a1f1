//! Why a column was taken for what it is, in words.

use super::{ColumnKind, Evidence};

/// Why a column was taken for a kind, and what else it may be, in words; `None` if nothing in the
/// table says that it is of this kind.
pub fn why(evidence: &[Evidence], column: usize, kind: ColumnKind) -> Option<String> {
    let of = |kind: ColumnKind| {
        evidence
            .iter()
            .filter(move |e| e.column == column && e.kind == kind)
    };
    let weight = |kind: ColumnKind| of(kind).map(|e| e.weight).sum::<i32>();
    let reasons = |kind: ColumnKind, is_for: bool| {
        let mut all: Vec<&Evidence> = of(kind).filter(|e| (e.weight > 0) == is_for).collect();
        all.sort_by_key(|e| std::cmp::Reverse(e.weight.abs()));
        let all: Vec<&str> = all.into_iter().map(|e| e.reason.as_str()).collect();
        all.join(", ")
    };
    let said = reasons(kind, true);
    if said.is_empty() {
        return None;
    }
    let against = match reasons(kind, false) {
        told if told.is_empty() => told,
        told => format!("; against it: {told}"),
    };
    // What has half as much for it may be meant.
    let rival = ColumnKind::ALL
        .into_iter()
        .filter(|other| *other != kind && weight(*other) * 2 >= weight(kind).max(1))
        .max_by_key(|other| weight(*other));
    let sure = match rival {
        Some(rival) => format!(
            "not sure: it may be “{}” ({})",
            rival.label(),
            reasons(rival, true)
        ),
        None => "sure, nothing speaks as much for anything else".to_owned(),
    };
    Some(format!("{said}{against}; {sure}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::table::choose::weigh;
    use crate::file::table::read_text;

    #[test]
    fn a_column_tells_why_it_was_taken() {
        let table = read_text("Ingredient,%,Price\nWater,90,1.2\nGlycerin,10,7\n")
            .unwrap()
            .remove(0);
        let weighing = weigh(&table).unwrap();
        let told = |column: usize| {
            let kind = weighing.layout.kind(column)?;
            why(&weighing.evidence, column, kind)
        };
        let percent = told(1).unwrap();
        assert!(percent.starts_with("the heading “%”"), "{percent}");
        assert!(percent.contains("adds up to the whole"), "{percent}");
        assert!(percent.contains("sure, nothing"), "{percent}");
        // Nothing of a percentage speaks for a phase.
        assert_eq!(why(&weighing.evidence, 1, ColumnKind::Phase), None);
        assert!(!ColumnKind::Price.is_of_a_recipe() && ColumnKind::Price.is_of_a_list());
    }

    #[test]
    fn what_a_column_may_be_besides_is_told() {
        let of = |kind: ColumnKind, weight: i32, reason: &str| Evidence {
            column: 0,
            kind,
            weight,
            reason: reason.to_owned(),
        };
        let evidence = [
            of(ColumnKind::Percent, 8, "percentages"),
            of(ColumnKind::Percent, -2, "some are empty"),
            of(ColumnKind::Strength, 4, "a word for it"),
        ];
        assert_eq!(
            why(&evidence, 0, ColumnKind::Percent).as_deref(),
            Some(
                "percentages; against it: some are empty; not sure: it may be “strength” (a word for it)"
            )
        );
        assert_eq!(why(&evidence, 1, ColumnKind::Percent), None);
    }
}
