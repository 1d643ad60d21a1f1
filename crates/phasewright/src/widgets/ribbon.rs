//! A band from one stack of a chart to another.

use eframe::egui::{self, Color32, Mesh, pos2};

/// Pieces in which the curve is drawn.
const PIECES: u8 = 18;

/// A band from one stack to the other, level at both ends; each end is where it stands, its top
/// and its bottom, in points.
pub fn ribbon(ends: [(f32, f32, f32); 2], colours: [Color32; 2]) -> Mesh {
    let [(x0, top0, bottom0), (x1, top1, bottom1)] = ends;
    let mut mesh = Mesh::default();
    for i in 0..=PIECES {
        let t = f32::from(i) / f32::from(PIECES);
        let smooth = t * t * (3.0 - 2.0 * t);
        let x = egui::lerp(x0..=x1, t);
        let top = egui::lerp(top0..=top1, smooth);
        let bottom = egui::lerp(bottom0..=bottom1, smooth);
        let colour = colours[0].lerp_to_gamma(colours[1], t);
        // A sliver thinner than a hairline is drawn as a hairline.
        let grow = ((0.6 - (bottom - top)) / 2.0).max(0.0);
        mesh.colored_vertex(pos2(x, top - grow), colour);
        mesh.colored_vertex(pos2(x, bottom + grow), colour);
    }
    for i in 0..u32::from(PIECES) {
        let a = 2 * i;
        mesh.add_triangle(a, a + 1, a + 2);
        mesh.add_triangle(a + 1, a + 2, a + 3);
    }
    mesh
}
