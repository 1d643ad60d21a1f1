//! The sign of the program: two stacks and a ribbon between them.

use std::fmt::Write as _;

use eframe::egui::Color32;
use formulation::material::{Charge, Class};

use crate::theme;

/// Side of the square in which the sign is drawn.
const SIDE: usize = 64;

/// A rectangle of one colour: left, top, width, height.
type Block = (usize, usize, usize, usize, Color32);

/// The blocks of the two stacks.
fn stacks() -> [Block; 6] {
    let p = &theme::LIGHT;
    let class = |class| p.class(class).colour;
    [
        (4, 4, 16, 16, p.phase(3)),
        (4, 20, 16, 20, p.phase(1)),
        (4, 40, 16, 20, p.phase(0)),
        (44, 4, 16, 10, class(Class::Preservative)),
        (44, 14, 16, 16, class(Class::Surfactant(Charge::Anionic))),
        (44, 30, 16, 30, class(Class::Water)),
    ]
}

/// Top of the ribbon, which falls from the right stack to the left one.
const RIBBON: [(usize, usize); 2] = [(20, 40), (44, 30)];

/// The sign as pixels of red, green, blue and opacity, row by row.
pub fn rgba(side: usize) -> Vec<u8> {
    let blocks = stacks();
    let [(left, from), (right, to)] = RIBBON;
    let mut pixels = Vec::with_capacity(side * side * 4);
    for y in 0..side {
        for x in 0..side {
            // Middle of the pixel, in the square of the drawing.
            let place = |v: usize| (v as f32 + 0.5) * SIDE as f32 / side as f32;
            let (x, y) = (place(x), place(y));
            let within =
                |low: usize, size: usize, v: f32| (low as f32..(low + size) as f32).contains(&v);
            let block = blocks
                .iter()
                .find(|(l, t, w, h, _)| within(*l, *w, x) && within(*t, *h, y))
                .map(|(.., colour)| *colour);
            let top =
                from as f32 + (x - left as f32) * (to as f32 - from as f32) / (right - left) as f32;
            let ribbon = within(left, right - left, x) && y >= top && y < 60.0;
            let colour = block.or(ribbon.then_some(theme::LIGHT.usual));
            pixels.extend(
                colour
                    .unwrap_or(Color32::TRANSPARENT)
                    .to_srgba_unmultiplied(),
            );
        }
    }
    pixels
}

/// The sign as a scalable picture.
pub fn svg() -> String {
    let hex = |c: Color32| format!("#{:02x}{:02x}{:02x}", c.r(), c.g(), c.b());
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {SIDE} {SIDE}\" width=\"{SIDE}\" height=\"{SIDE}\">\n"
    );
    let [(left, from), (right, to)] = RIBBON;
    let _ = writeln!(
        out,
        "<path d=\"M{left} {from}L{right} {to}V60H{left}Z\" fill=\"{}\"/>",
        hex(theme::LIGHT.usual)
    );
    for (x, y, width, height, colour) in stacks() {
        let _ = writeln!(
            out,
            "<rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\" fill=\"{}\"/>",
            hex(colour)
        );
    }
    out + "</svg>\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sign_is_the_same_at_every_size() {
        for side in [16, 24, 64, 256] {
            let pixels = rgba(side);
            assert_eq!(pixels.len(), 4 * side * side);
            let at = |x: usize, y: usize| {
                let place = 4 * (y * side / SIDE * side + x * side / SIDE);
                pixels[place..place + 4].to_vec()
            };
            // A corner is empty; the middles of the stacks are not, and differ.
            assert_eq!(at(0, 0)[3], 0);
            assert_eq!(at(12, 30)[3], 255);
            assert_ne!(at(12, 30), at(52, 45));
        }
        assert_eq!(svg().matches("<rect").count(), 6);
    }
}
