//! A region of mixtures: shares between bounds that sum to one, further linear bounds. Its
//! vertices and faces (McLean and Anderson 1966).

use std::collections::{BTreeMap, BTreeSet};

use nalgebra::{DMatrix, DVector};

/// A linear bound on the shares.
#[derive(Clone, PartialEq, Debug)]
pub struct LinearBound {
    /// One factor a component.
    pub coef: Vec<f64>,
    /// Least value.
    pub lo: Option<f64>,
    /// Greatest value.
    pub hi: Option<f64>,
}

/// Mixtures that may be tried; shares are parts of one.
#[derive(Clone, PartialEq, Debug)]
pub struct Region {
    /// Least shares.
    pub lower: Vec<f64>,
    /// Greatest shares.
    pub upper: Vec<f64>,
    /// Further bounds.
    pub linear: Vec<LinearBound>,
}

/// Why a region cannot be laid out.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum RegionError {
    /// Bounds of different number, or not numbers.
    #[error("every component needs a least and a greatest share")]
    Bounds,
    /// More combinations of bounds than can be tried.
    #[error("{0} components with these bounds give too many vertices; vary fewer lines")]
    TooMany(usize),
}

/// Places closer than this are one.
const SAME: f64 = 1e-9;
/// Combinations of active bounds that are tried at most.
const MOST: usize = 2_000_000;

/// A face: the vertices on it, by number.
pub type Face = BTreeSet<usize>;

/// A region laid out.
#[derive(Clone, PartialEq, Debug)]
pub struct Shape {
    /// Vertices in ascending order; none where no mixture keeps all bounds.
    pub vertices: Vec<Vec<f64>>,
    /// Faces by dimension, vertices at 0, the region itself last.
    pub faces: BTreeMap<usize, Vec<Face>>,
    rows: Vec<(Vec<f64>, f64)>,
}

impl Region {
    /// Components.
    #[must_use]
    pub fn components(&self) -> usize {
        self.lower.len()
    }

    /// Bounds as rows a·x ≥ b, a lower and an upper bound of every component in turn first.
    fn rows(&self) -> Vec<(Vec<f64>, f64)> {
        let q = self.components();
        let unit = |i: usize, v: f64| (0..q).map(|j| if i == j { v } else { 0.0 }).collect();
        let mut out: Vec<(Vec<f64>, f64)> = Vec::new();
        for (i, (lo, hi)) in self.lower.iter().zip(&self.upper).enumerate() {
            out.push((unit(i, 1.0), *lo));
            out.push((unit(i, -1.0), -hi));
        }
        for bound in &self.linear {
            if let Some(lo) = bound.lo {
                out.push((bound.coef.clone(), lo));
            }
            if let Some(hi) = bound.hi {
                out.push((bound.coef.iter().map(|c| -c).collect(), -hi));
            }
        }
        out
    }

    /// Whether a mixture keeps all bounds, to rounding.
    #[must_use]
    pub fn contains(&self, x: &[f64]) -> bool {
        (x.iter().sum::<f64>() - 1.0).abs() < SAME && keeps(&self.rows(), x, SAME)
    }

    /// Vertices and faces.
    pub fn shape(&self) -> Result<Shape, RegionError> {
        let q = self.components();
        let numbers = self.lower.iter().chain(&self.upper);
        if q == 0
            || self.upper.len() != q
            || numbers.clone().any(|v| !v.is_finite())
            || self.linear.iter().any(|l| l.coef.len() != q)
        {
            return Err(RegionError::Bounds);
        }
        let rows = self.rows();
        let mut found: BTreeMap<Vec<i64>, Vec<f64>> = BTreeMap::new();
        let mut tried = 0;
        let mut chosen = Vec::with_capacity(q);
        corners(&rows, q, 0, &mut chosen, &mut tried, &mut |x: Vec<f64>| {
            found.entry(key(&x)).or_insert(x);
        })
        .map_err(|()| RegionError::TooMany(q))?;
        let vertices: Vec<Vec<f64>> = found.into_values().collect();
        let faces = faces(&rows, &vertices);
        Ok(Shape {
            vertices,
            faces,
            rows,
        })
    }
}

fn key(x: &[f64]) -> Vec<i64> {
    x.iter().map(|v| (v / SAME / 10.0).round() as i64).collect()
}

fn keeps(rows: &[(Vec<f64>, f64)], x: &[f64], slack: f64) -> bool {
    rows.iter().all(|(a, b)| {
        let value: f64 = a.iter().zip(x).map(|(a, x)| a * x).sum();
        value >= b - slack * (1.0 + b.abs())
    })
}

/// Solves every choice of q − 1 active bounds.
fn corners(
    rows: &[(Vec<f64>, f64)],
    q: usize,
    from: usize,
    chosen: &mut Vec<usize>,
    tried: &mut usize,
    found: &mut dyn FnMut(Vec<f64>),
) -> Result<(), ()> {
    if chosen.len() + 1 == q {
        *tried += 1;
        if *tried > MOST {
            return Err(());
        }
        let a = DMatrix::from_fn(q, q, |i, j| {
            if i == 0 {
                1.0
            } else {
                rows[chosen[i - 1]].0[j]
            }
        });
        let b = DVector::from_fn(q, |i, _| if i == 0 { 1.0 } else { rows[chosen[i - 1]].1 });
        let lu = a.lu();
        if lu.u().diagonal().iter().all(|d| d.abs() > 1e-10)
            && let Some(x) = lu.solve(&b)
        {
            let x = x.as_slice().to_vec();
            if keeps(rows, &x, SAME) {
                // Zeros are written without a sign or a rounding rest.
                let tidy = |v: f64| if v.abs() < 1e-15 { 0.0 } else { v };
                found(x.into_iter().map(tidy).collect());
            }
        }
        return Ok(());
    }
    for next in from..rows.len() {
        // The lower and the upper bound of one component exclude each other.
        if next % 2 == 1 && next < 2 * q && chosen.last() == Some(&(next - 1)) {
            continue;
        }
        chosen.push(next);
        corners(rows, q, next + 1, chosen, tried, found)?;
        chosen.pop();
    }
    Ok(())
}

/// Faces from which vertices lie on which bounds.
fn faces(rows: &[(Vec<f64>, f64)], vertices: &[Vec<f64>]) -> BTreeMap<usize, Vec<Face>> {
    let mut by_dimension: BTreeMap<usize, Vec<Face>> = BTreeMap::new();
    if vertices.is_empty() {
        return by_dimension;
    }
    let all: Face = (0..vertices.len()).collect();
    let facets: BTreeSet<Face> = rows
        .iter()
        .map(|(a, b)| {
            (0..vertices.len())
                .filter(|i| {
                    let value: f64 = a.iter().zip(&vertices[*i]).map(|(a, x)| a * x).sum();
                    (value - b).abs() <= 2.0 * SAME * (1.0 + b.abs())
                })
                .collect::<Face>()
        })
        .filter(|f| !f.is_empty() && *f != all)
        .collect();
    let mut known: BTreeSet<Face> = BTreeSet::from([all.clone()]);
    let mut new = known.clone();
    while !new.is_empty() {
        let mut next = BTreeSet::new();
        for face in &new {
            for facet in &facets {
                let cut: Face = face.intersection(facet).copied().collect();
                if !cut.is_empty() && !known.contains(&cut) {
                    next.insert(cut);
                }
            }
        }
        known.extend(next.iter().cloned());
        new = next;
    }
    for face in known {
        let points: Vec<&[f64]> = face.iter().map(|i| vertices[*i].as_slice()).collect();
        by_dimension
            .entry(affine_rank(&points))
            .or_default()
            .push(face);
    }
    by_dimension
}

/// Dimension of the flat through some points.
fn affine_rank(points: &[&[f64]]) -> usize {
    let Some((first, rest)) = points.split_first() else {
        return 0;
    };
    let mut basis: Vec<Vec<f64>> = Vec::new();
    for p in rest {
        let mut d: Vec<f64> = p.iter().zip(*first).map(|(a, b)| a - b).collect();
        for _ in 0..2 {
            for b in &basis {
                let along: f64 = b.iter().zip(&d).map(|(x, y)| x * y).sum();
                for (v, w) in d.iter_mut().zip(b) {
                    *v -= along * w;
                }
            }
        }
        let length = d.iter().map(|v| v * v).sum::<f64>().sqrt();
        if length > SAME {
            basis.push(d.into_iter().map(|v| v / length).collect());
        }
        if basis.len() + 1 == first.len() {
            break;
        }
    }
    basis.len()
}

impl Shape {
    /// Dimension of the region; none if no mixture keeps all bounds.
    #[must_use]
    pub fn dimension(&self) -> Option<usize> {
        self.faces.keys().next_back().copied()
    }
    /// Average of all vertices.
    #[must_use]
    pub fn centroid(&self) -> Option<Vec<f64>> {
        let all: Vec<usize> = (0..self.vertices.len()).collect();
        (!all.is_empty()).then(|| self.average(all.iter()))
    }
    fn average<'a>(&self, of: impl Iterator<Item = &'a usize> + Clone) -> Vec<f64> {
        let n = of.clone().count() as f64;
        let q = self.vertices.first().map_or(0, Vec::len);
        (0..q)
            .map(|j| of.clone().map(|i| self.vertices[*i][j]).sum::<f64>() / n)
            .collect()
    }
    /// Averages of the vertices of all faces of a dimension, in ascending order.
    #[must_use]
    pub fn centroids(&self, dimension: usize) -> Vec<Vec<f64>> {
        let mut out: Vec<Vec<f64>> = self
            .faces
            .get(&dimension)
            .into_iter()
            .flatten()
            .map(|f| self.average(f.iter()))
            .collect();
        out.sort_by_key(|x| key(x));
        out
    }
    /// The range that each component can really take.
    #[must_use]
    pub fn implied(&self) -> Vec<[f64; 2]> {
        let q = self.vertices.first().map_or(0, Vec::len);
        (0..q)
            .map(|j| {
                self.vertices
                    .iter()
                    .map(|v| v[j])
                    .fold([f64::INFINITY, f64::NEG_INFINITY], |[a, b], v| {
                        [a.min(v), b.max(v)]
                    })
            })
            .collect()
    }
    /// Whether a mixture keeps all bounds, to rounding.
    #[must_use]
    pub fn contains(&self, x: &[f64]) -> bool {
        keeps(&self.rows, x, 1e-10)
    }
    /// Points of a design: vertices, middles of edges, middles of facets, the middle of all,
    /// each once.
    #[must_use]
    pub fn candidates(&self, edges: bool, facets: bool) -> Vec<Vec<f64>> {
        let mut out = self.vertices.clone();
        let dimension = self.dimension().unwrap_or(0);
        if edges && dimension > 1 {
            out.extend(self.centroids(1));
        }
        if facets && dimension > 2 {
            out.extend(self.centroids(dimension - 1));
        }
        out.extend(self.centroid());
        let mut seen = BTreeSet::new();
        out.retain(|x| seen.insert(key(x)));
        out
    }
}
