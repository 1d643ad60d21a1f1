//! The demands that cannot be met together, and how little each would have to give way.

use super::{Aim, Clash, Collision, Preference, Prepared, Proposal, Relaxed, Round};
use crate::solve::collide;
use crate::solve::demand::Demand;
use crate::solve::limits;

impl Prepared<'_> {
    /// Names the smallest colliding set and how each member could give way.
    pub(super) fn collision(&self, aim: &Aim, demands: &[Demand]) -> Collision {
        let n = self.subject.len();
        let Some(set) = collide::smallest(n, demands, &|| !self.is_stopped()) else {
            return Collision {
                clashes: Vec::new(),
                smallest: false,
            };
        };
        let clashes = set
            .members
            .iter()
            .filter_map(|&i| demands.get(i).map(|d| (i, d)))
            .map(|(i, demand)| {
                let others: Vec<&Demand> = set
                    .members
                    .iter()
                    .filter(|&&j| j != i)
                    .filter_map(|&j| demands.get(j))
                    .collect();
                let reach = collide::reach(n, demand, others.iter().copied());
                Clash {
                    origin: demand.origin.clone(),
                    words: demand.words.clone(),
                    reach,
                    sentence: sentence(demand, &others, reach),
                    nearest: self.nearest_relaxing(aim, demands, i).map(Box::new),
                }
            })
            .collect();
        Collision {
            clashes,
            smallest: set.smallest,
        }
    }

    /// Eases a demand as little as it must for the others to be kept, and returns its
    /// place; `None` if the others collide without it.
    pub(super) fn relax(&self, demands: &mut [Demand], relaxed: &Relaxed) -> Option<usize> {
        let of_origin = |(_, d): &(usize, &Demand)| d.origin == relaxed.origin;
        let (place, _) = demands
            .iter()
            .enumerate()
            .filter(of_origin)
            .nth(relaxed.number)?;
        let (before, rest) = demands.split_at_mut(place);
        let (demand, after) = rest.split_first_mut()?;
        let others = before.iter().chain(&*after);
        let Some(reach) = collide::reach(self.subject.len(), demand, others) else {
            // A ratio to nothing comes close to no figure; it is let go altogether.
            demand.form.bottom.take()?;
            (demand.low, demand.high) = (f64::NEG_INFINITY, f64::INFINITY);
            return Some(place);
        };
        // A hair of room, without which the interior-point method has none to move in.
        let room = 1e-6 * reach.abs().max(1.0);
        if reach < demand.low {
            demand.low = reach - room;
        } else {
            demand.high = reach + room;
        }
        demand.high = demand.high.max(demand.low + 2.0 * room);
        Some(place)
    }

    /// The nearest formula when one demand gives way as little as it must.
    fn nearest_relaxing(&self, aim: &Aim, demands: &[Demand], which: usize) -> Option<Proposal> {
        let origin = demands.get(which)?.origin.clone();
        let same = |d: &&Demand| d.origin == origin;
        let number = demands.iter().take(which).filter(same).count();
        let nearest = Aim {
            prefer: Preference::Change,
            ..aim.clone()
        };
        match self
            .solve(&nearest, Some(&Relaxed { origin, number }))
            .ok()?
        {
            Round::Solved(solved) => Some(self.proposal(&nearest, &solved)),
            Round::Colliding(_) => None,
        }
    }
}

/// “at least 14 % active matter does not go together with at most 20 % betaine and at
/// most 5 % glucoside: they can reach 11.3 %”.
fn sentence(demand: &Demand, others: &[&Demand], reach: Option<f64>) -> String {
    let words: Vec<&str> = others.iter().map(|d| d.words.as_str()).collect();
    let with = if words.is_empty() {
        "the total of 100 % and the lines of the formula".to_owned()
    } else {
        limits::join(&words)
    };
    match reach {
        Some(reach) => {
            let limit = if reach < demand.low {
                demand.low
            } else {
                demand.high
            };
            format!(
                "{} does not go together with {with}: {} can reach {}",
                demand.words,
                demand.name,
                demand.figure.write_apart(reach, limit)
            )
        }
        None => format!("{} does not go together with {with}", demand.words),
    }
}
