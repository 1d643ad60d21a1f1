//! Which packaging of the stock goes with the containers of a plan, and whether there is enough.

use std::sync::Arc;

use super::scale::Filling;
use crate::plain_words::plain;
use crate::quantity::in_millilitres;
use crate::stock::LotUsage;
use crate::stock::packaging::PackagingLot;

/// Packaging for the containers of a plan.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct PackagingPlan {
    /// Kinds of packaging of which each container takes a piece.
    pub kinds: Vec<Arc<str>>,
    /// What there is too little of, in words.
    pub lacking: Vec<String>,
}

/// A kind of packaging in the stock with the pieces left of it.
struct Kind {
    what: Arc<str>,
    left: i64,
}

/// The kinds in the stock, by their names whatever the capitals and marks, in the order of receipt.
fn kinds(lots: &[PackagingLot], usage: &LotUsage) -> Vec<Kind> {
    let mut kinds: Vec<Kind> = Vec::new();
    for lot in lots {
        let left = lot.left(usage).max(0);
        match kinds.iter_mut().find(|k| is_same(&k.what, &lot.what)) {
            Some(kind) => kind.left = kind.left.saturating_add(left),
            None => kinds.push(Kind {
                what: lot.what.clone(),
                left,
            }),
        }
    }
    kinds
}

/// Whether two names are of one kind of packaging.
pub(crate) fn is_same(one: &str, other: &str) -> bool {
    plain(one) == plain(other)
}

/// Whether a name states a volume in millilitres: “jar 60 ml”, “jar 60ml”.
fn states_volume(what: &str, millilitres: f64) -> bool {
    let words = plain(what);
    let mut before = "";
    words.split_whitespace().any(|word| {
        let number = match word.strip_suffix("ml") {
            Some("") => before,
            Some(number) => number,
            None => "",
        };
        before = word;
        let stated: Option<f64> = number.parse().ok();
        stated.is_some_and(|stated| (stated - millilitres).abs() < 0.5)
    })
}

impl PackagingPlan {
    /// The packaging of a plan. `known` are the names of what the containers of the product are
    /// known to take, from its costs or its earlier batches. What bears the volume of the
    /// containers in its name goes with them too. Where nothing is known to go with them,
    /// everything of which there are fewer pieces than containers is told.
    pub fn of<'k>(
        (lots, usage): (&[PackagingLot], &LotUsage),
        known: impl IntoIterator<Item = &'k str>,
        filling: Option<&Filling>,
    ) -> Self {
        let Some(filling) = filling.filter(|_| !lots.is_empty()) else {
            return Self::default();
        };
        let known: Vec<&str> = known.into_iter().collect();
        let contents = in_millilitres(filling.contents);
        let goes_with = |kind: &Kind| {
            known.iter().any(|k| is_same(k, &kind.what)) || states_volume(&kind.what, contents)
        };
        let all = kinds(lots, usage);
        let of_plan: Vec<&Kind> = all.iter().filter(|k| goes_with(k)).collect();
        let count = filling.count;
        let short = |kind: &&Kind| kind.left < i64::from(count);
        let lacking = if of_plan.is_empty() {
            let few: Vec<String> = all
                .iter()
                .filter(short)
                .map(|k| format!("{} ({} left)", k.what, k.left))
                .collect();
            let words = || {
                format!(
                    "packaging of which there are fewer pieces than the {count} containers: {}",
                    few.join(", ")
                )
            };
            (!few.is_empty()).then(words).into_iter().collect()
        } else {
            let few = of_plan.iter().copied().filter(short);
            few.map(|k| {
                format!(
                    "of {} there are {} pieces left, {count} containers are to be filled",
                    k.what, k.left
                )
            })
            .collect()
        };
        Self {
            kinds: of_plan.into_iter().map(|k| k.what.clone()).collect(),
            lacking,
        }
    }
}

/// What there is too little of for several batches, in words: of each kind of packaging how many
/// pieces they take.
pub fn pieces_lacking<'n>(
    (lots, usage): (&[PackagingLot], &LotUsage),
    needed: impl IntoIterator<Item = (&'n str, u64)>,
) -> Vec<String> {
    let mut sums: Vec<(&str, u64)> = Vec::new();
    for (what, pieces) in needed {
        match sums.iter_mut().find(|(known, _)| is_same(known, what)) {
            Some((_, sum)) => *sum = sum.saturating_add(pieces),
            None => sums.push((what, pieces)),
        }
    }
    let all = kinds(lots, usage);
    let left = |what: &str| {
        let kind = all.iter().find(|k| is_same(&k.what, what));
        kind.map_or(0, |k| u64::try_from(k.left).unwrap_or(0))
    };
    let short = sums.into_iter().filter(|(what, sum)| left(what) < *sum);
    short
        .map(|(what, sum)| {
            let left = left(what);
            format!(
                "{what}: {sum} pieces needed, {left} left, {} lacking",
                sum - left
            )
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::Date;
    use crate::quantity::{grams, millilitres};
    use crate::stock::LotId;

    fn lot(id: &str, what: &str, pieces: u32) -> PackagingLot {
        PackagingLot {
            id: LotId::new(id).unwrap(),
            what: what.into(),
            supplier: "".into(),
            supplier_lot: "".into(),
            received: Date::constant(2026, 3, 2),
            pieces,
            price_each: None,
            low_below: None,
            note: "".into(),
        }
    }

    #[test]
    fn too_few_pieces_for_the_containers_are_told() {
        let lots = [
            lot("J1", "Jar 60 ml", 3),
            lot("J2", "jar 60 ml", 2),
            lot("L1", "Label balm", 40),
            lot("P1", "Pump", 7),
        ];
        let usage = LotUsage::default();
        let plan = |ml: f64, count, known: &[&str]| {
            let filling = Filling {
                count,
                contents: millilitres(ml),
                mass_each: grams(ml),
                mass: grams(ml * f64::from(count)),
            };
            PackagingPlan::of((&lots, &usage), known.iter().copied(), Some(&filling))
        };
        let jars = plan(60.0, 24, &["label balm"]);
        assert_eq!(
            jars.lacking,
            ["of Jar 60 ml there are 5 pieces left, 24 containers are to be filled"]
        );
        assert_eq!(jars.kinds.len(), 2);
        assert!(plan(60.0, 5, &[]).lacking.is_empty());
        // Nothing goes with 100 ml by its name.
        assert_eq!(
            plan(100.0, 24, &[]).lacking,
            [
                "packaging of which there are fewer pieces than the 24 containers: Jar 60 ml (5 left), Pump (7 left)"
            ]
        );
        assert!(plan(100.0, 24, &["Label balm"]).lacking.is_empty());
        let needed = [("Jar 60 ml", 24), ("jar 60 ML", 6), ("Pump", 7)];
        assert_eq!(
            pieces_lacking((&lots, &usage), needed),
            ["Jar 60 ml: 30 pieces needed, 5 left, 25 lacking"]
        );
        let without = PackagingPlan::of((&lots, &usage), ["Pump"], None);
        assert_eq!(without, PackagingPlan::default());
    }
}
