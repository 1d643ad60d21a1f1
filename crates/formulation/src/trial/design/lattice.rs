//! Designs on the whole simplex (Scheffé 1958, 1963).

/// More points than anybody weighs.
const MOST: f64 = 1e5;

/// The simplex lattice {q, m}: all shares that are multiples of 1/m; none if they are more
/// than can be listed.
#[must_use]
pub fn simplex_lattice(q: usize, m: usize) -> Option<Vec<Vec<f64>>> {
    let points = (1..q).map(|i| (m + i) as f64 / i as f64).product::<f64>();
    if points > MOST {
        return None;
    }
    fn fill(rest: usize, head: &mut Vec<usize>, q: usize, out: &mut Vec<Vec<usize>>) {
        if head.len() + 1 == q {
            let mut whole = head.clone();
            whole.push(rest);
            out.push(whole);
            return;
        }
        for k in (0..=rest).rev() {
            head.push(k);
            fill(rest - k, head, q, out);
            head.pop();
        }
    }
    let mut out = Vec::new();
    if q > 0 && m > 0 {
        fill(m, &mut Vec::new(), q, &mut out);
    }
    let share = |p: Vec<usize>| p.into_iter().map(|k| k as f64 / m as f64).collect();
    Some(out.into_iter().map(share).collect())
}

/// The simplex centroid: the middle of every subset of the components, single ones first;
/// none if they are more than can be listed.
#[must_use]
pub fn simplex_centroid(q: usize) -> Option<Vec<Vec<f64>>> {
    if q > 16 {
        return None;
    }
    let mut subsets: Vec<Vec<usize>> = (1_u64..1 << q)
        .map(|set| (0..q).filter(|i| set >> i & 1 == 1).collect())
        .collect();
    subsets.sort_by(|a: &Vec<usize>, b| a.len().cmp(&b.len()).then_with(|| a.cmp(b)));
    let centre = |s: Vec<usize>| {
        let share = 1.0 / s.len() as f64;
        (0..q)
            .map(|i| if s.contains(&i) { share } else { 0.0 })
            .collect()
    };
    Some(subsets.into_iter().map(centre).collect())
}
