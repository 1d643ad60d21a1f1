//! Filling one triangle.

use egui::Pos2;
use egui::epaint::Vertex;

use crate::Picture;
use crate::texture::{Texture, channels};

/// A half-open range of pixels that may be drawn on.
#[derive(Clone, Copy)]
pub struct Clip {
    pub left: i64,
    pub top: i64,
    pub right: i64,
    pub bottom: i64,
}

/// Parts of a pixel in which positions are kept, as graphics cards do (1/256).
const PARTS: i64 = 256;

/// A corner in 1/256 pixel.
#[derive(Clone, Copy)]
struct Corner {
    x: i64,
    y: i64,
}

/// The line from `from` to `to`: its value is positive for points inside.
struct Edge {
    step_x: i64,
    step_y: i64,
    value: i64,
    bias: i64,
}

impl Edge {
    fn new(from: Corner, to: Corner, at: Corner) -> Self {
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        // With y pointing down and the inside on the right-hand side: an edge that
        // goes right and level is a top edge, one that goes up is a left edge.
        let top_left = (dy == 0 && dx > 0) || dy < 0;
        Self {
            step_x: -dy * PARTS,
            step_y: dx * PARTS,
            value: dx * (at.y - from.y) - dy * (at.x - from.x),
            bias: i64::from(!top_left),
        }
    }
}

/// Fills the triangle of three vertices given in points.
pub fn triangle(
    picture: &mut Picture,
    clip: Clip,
    pixels_per_point: f32,
    texture: &Texture,
    [first, second, third]: [&Vertex; 3],
) {
    let corner = |v: &Vertex| Corner {
        x: (v.pos.x * pixels_per_point * PARTS as f32).round() as i64,
        y: (v.pos.y * pixels_per_point * PARTS as f32).round() as i64,
    };
    let (a, mut b, mut c) = (corner(first), corner(second), corner(third));
    let (mut second, mut third) = (second, third);
    let mut area = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
    if area < 0 {
        std::mem::swap(&mut b, &mut c);
        std::mem::swap(&mut second, &mut third);
        area = -area;
    }
    if area == 0 {
        return;
    }

    let left = (a.x.min(b.x).min(c.x).div_euclid(PARTS)).max(clip.left);
    let top = (a.y.min(b.y).min(c.y).div_euclid(PARTS)).max(clip.top);
    let right = (a.x.max(b.x).max(c.x).div_euclid(PARTS) + 1).min(clip.right);
    let bottom = (a.y.max(b.y).max(c.y).div_euclid(PARTS) + 1).min(clip.bottom);
    if left >= right || top >= bottom {
        return;
    }

    let start = Corner {
        x: left * PARTS + PARTS / 2,
        y: top * PARTS + PARTS / 2,
    };
    let mut edges = [
        Edge::new(b, c, start),
        Edge::new(c, a, start),
        Edge::new(a, b, start),
    ];
    let vertices = [first, second, third];
    let colours = vertices.map(|v| channels(v.color));
    let same_colour = vertices.iter().all(|v| v.color == first.color);
    let same_texel = vertices.iter().all(|v| v.uv == first.uv);
    let flat = (same_colour && same_texel).then(|| {
        let texel = texture.sample(first.uv);
        std::array::from_fn(|i| colours[0][i] * texel[i])
    });
    let one_texel = same_texel.then(|| texture.sample(first.uv));

    let width = picture.width;
    for y in top..bottom {
        let mut values = edges.each_ref().map(|e| e.value);
        let row = y as usize * width;
        for x in left..right {
            let inside = values.iter().zip(&edges).all(|(&v, e)| v >= e.bias);
            if inside && let Some(pixel) = picture.pixels.get_mut(row + x as usize) {
                let colour = flat.unwrap_or_else(|| {
                    let weights = values.map(|v| v as f32 / area as f32);
                    let mixed: [f32; 4] =
                        std::array::from_fn(|i| (0..3).map(|k| weights[k] * colours[k][i]).sum());
                    let texel = one_texel.unwrap_or_else(|| {
                        texture.sample((0..3).fold(Pos2::ZERO, |at, k| {
                            at + weights[k] * vertices[k].uv.to_vec2()
                        }))
                    });
                    std::array::from_fn(|i| mixed[i] * texel[i])
                });
                blend(pixel, colour);
            }
            for (value, edge) in values.iter_mut().zip(&edges) {
                *value += edge.step_x;
            }
        }
        for edge in &mut edges {
            edge.value += edge.step_y;
        }
    }
}

/// Lays a premultiplied colour over a premultiplied pixel, in gamma space.
fn blend(pixel: &mut [u8; 4], colour: [f32; 4]) {
    let under = 1.0 - colour[3];
    for (below, over) in pixel.iter_mut().zip(colour) {
        *below = (over * 255.0 + f32::from(*below) * under)
            .round()
            .clamp(0.0, 255.0) as u8;
    }
}
