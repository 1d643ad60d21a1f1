//! Least and greatest value of a quadratic Scheffé polynomial in a region. The model is not
//! convex: its extremes lie at vertices or at stationary points of faces, and all are tried.

use nalgebra::{DMatrix, DVector};

use super::super::fit::scheffe::Term;
use super::region::Shape;

/// An extreme.
#[derive(Clone, PartialEq, Debug)]
pub struct Extreme {
    /// The value there.
    pub value: f64,
    /// The mixture.
    pub x: Vec<f64>,
    /// Whether it is a vertex of the region.
    pub at_vertex: bool,
}

/// The least and the greatest value; none for an empty region or terms of higher order.
#[must_use]
pub fn range(shape: &Shape, terms: &[Term], coef: &[f64]) -> Option<(Extreme, Extreme)> {
    let q = shape.vertices.first()?.len();
    let mut c = DVector::zeros(q);
    let mut m = DMatrix::zeros(q, q);
    for (term, b) in terms.iter().zip(coef) {
        match term {
            Term::Product(of) => match of.as_slice() {
                [i] if *i < q => c[*i] += b,
                [i, j] if *i < q && *j < q => {
                    m[(*i, *j)] += b / 2.0;
                    m[(*j, *i)] += b / 2.0;
                }
                _ => return None,
            },
            Term::Difference(..) => return None,
        }
    }
    let value = |x: &DVector<f64>| c.dot(x) + (x.transpose() * &m * x)[(0, 0)];
    let mut found: Vec<Extreme> = shape
        .vertices
        .iter()
        .map(|v| Extreme {
            value: value(&DVector::from_column_slice(v)),
            x: v.clone(),
            at_vertex: true,
        })
        .collect();
    for (dimension, faces) in shape.faces.range(1..) {
        for face in faces {
            let points: Vec<&Vec<f64>> = face.iter().map(|i| &shape.vertices[*i]).collect();
            let Some(x) = stationary(&points, *dimension, &c, &m) else {
                continue;
            };
            if shape.contains(x.as_slice()) {
                found.push(Extreme {
                    value: value(&x),
                    x: x.as_slice().to_vec(),
                    at_vertex: false,
                });
            }
        }
    }
    let least = found.iter().min_by(|a, b| a.value.total_cmp(&b.value))?;
    // The first of equals, so that a vertex is preferred.
    let greatest = found
        .iter()
        .rev()
        .max_by(|a, b| a.value.total_cmp(&b.value))?;
    Some((least.clone(), greatest.clone()))
}

/// Where the quadratic is level on the flat through some points.
fn stationary(
    points: &[&Vec<f64>],
    dimension: usize,
    c: &DVector<f64>,
    m: &DMatrix<f64>,
) -> Option<DVector<f64>> {
    let (first, rest) = points.split_first()?;
    let origin = DVector::from_column_slice(first);
    let spans = DMatrix::from_fn(origin.len(), rest.len(), |i, j| rest[j][i] - first[i]);
    let svd = spans.svd(true, false);
    let u = svd.u?;
    let mut order: Vec<usize> = (0..svd.singular_values.len()).collect();
    order.sort_by(|a, b| svd.singular_values[*b].total_cmp(&svd.singular_values[*a]));
    let basis = DMatrix::from_fn(origin.len(), dimension, |i, j| u[(i, order[j])]);
    let h = basis.transpose() * m * &basis * 2.0;
    let scale = h.amax();
    if scale == 0.0 {
        return None;
    }
    let lu = h.lu();
    if lu.u().diagonal().iter().any(|d| d.abs() < 1e-12 * scale) {
        return None;
    }
    let slope = basis.transpose() * (c + m * &origin * 2.0);
    let step = lu.solve(&slope)?;
    Some(origin - basis * step)
}
