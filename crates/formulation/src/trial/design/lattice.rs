//! Designs on the whole simplex (Scheffé 1958, 1963).

/// The simplex lattice {q, m}: all shares that are multiples of 1/m.
#[must_use]
pub fn simplex_lattice(q: usize, m: usize) -> Vec<Vec<f64>> {
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
    out.into_iter()
        .map(|p| p.into_iter().map(|k| k as f64 / m as f64).collect())
        .collect()
}

/// The simplex centroid: the middle of every subset of the components, single ones first.
#[must_use]
pub fn simplex_centroid(q: usize) -> Vec<Vec<f64>> {
    let mut subsets: Vec<Vec<usize>> = (1_u64..1 << q.min(20))
        .map(|set| (0..q).filter(|i| set >> i & 1 == 1).collect())
        .collect();
    subsets.sort_by(|a: &Vec<usize>, b| a.len().cmp(&b.len()).then_with(|| a.cmp(b)));
    subsets
        .into_iter()
        .map(|s| {
            (0..q)
                .map(|i| {
                    if s.contains(&i) {
                        1.0 / s.len() as f64
                    } else {
                        0.0
                    }
                })
                .collect()
        })
        .collect()
}
