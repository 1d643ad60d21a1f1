//! Keeps textures and paints whole frames.

use std::collections::BTreeMap;

use egui::epaint::{ClippedPrimitive, Primitive, textures::TexturesDelta};
use egui::{Color32, FullOutput, TextureId, Vec2};

use crate::Picture;
use crate::raster::{Clip, triangle};
use crate::texture::Texture;

/// Paints frames of one egui context, whose textures it keeps.
#[derive(Default)]
pub struct Painter {
    textures: BTreeMap<TextureId, Texture>,
    /// Textures that the frame painted next may still use.
    to_free: Vec<TextureId>,
}

impl Painter {
    /// Takes over changed textures. Call it for every frame, painted or not.
    pub fn update(&mut self, delta: &mut TexturesDelta) {
        for id in self.to_free.drain(..) {
            self.textures.remove(&id);
        }
        let mut changed: Vec<_> = delta.set.drain().collect();
        changed.sort_by_key(|(id, _)| *id);
        for (id, deltas) in changed {
            for delta in deltas {
                if let Some(place) = delta.pos {
                    if let Some(texture) = self.textures.get_mut(&id) {
                        texture.patch(place, &delta);
                    }
                } else {
                    self.textures.insert(id, Texture::whole(&delta));
                }
            }
        }
        self.to_free = delta.free.drain().collect();
        self.to_free.sort();
    }

    /// Paints tessellated shapes on a picture of the given size in pixels.
    /// Custom paint callbacks are left out: they need a graphics card.
    pub fn paint(
        &self,
        [width, height]: [usize; 2],
        pixels_per_point: f32,
        background: Color32,
        primitives: &[ClippedPrimitive],
    ) -> Picture {
        let mut picture = Picture::filled(width, height, background);
        for ClippedPrimitive {
            clip_rect,
            primitive,
        } in primitives
        {
            let Primitive::Mesh(mesh) = primitive else {
                continue;
            };
            let Some(texture) = self.textures.get(&mesh.texture_id) else {
                continue;
            };
            let pixel = |points: f32, most: usize| {
                ((points * pixels_per_point).round() as i64).clamp(0, most as i64)
            };
            let clip = Clip {
                left: pixel(clip_rect.min.x, width),
                top: pixel(clip_rect.min.y, height),
                right: pixel(clip_rect.max.x, width),
                bottom: pixel(clip_rect.max.y, height),
            };
            for corners in mesh.triangles() {
                let [Some(a), Some(b), Some(c)] = corners.map(|i| mesh.vertices.get(i as usize))
                else {
                    continue;
                };
                triangle(&mut picture, clip, pixels_per_point, texture, [a, b, c]);
            }
        }
        picture
    }
}

/// Draws a piece of user interface on its own, for exports: `size` in points,
/// `setup` prepares fonts and style of the fresh context, `add` draws.
pub fn draw(
    size: Vec2,
    pixels_per_point: f32,
    setup: impl FnOnce(&egui::Context),
    mut add: impl FnMut(&mut egui::Ui),
) -> Picture {
    let context = egui::Context::default();
    setup(&context);
    let mut painter = Painter::default();
    let mut frame = || -> FullOutput {
        let mut input = egui::RawInput {
            screen_rect: Some(egui::Rect::from_min_size(egui::Pos2::ZERO, size)),
            ..Default::default()
        };
        if let Some(viewport) = input.viewports.get_mut(&egui::ViewportId::ROOT) {
            viewport.native_pixels_per_point = Some(pixels_per_point);
        }
        let mut output = context.run_ui(input, &mut add);
        painter.update(&mut output.textures_delta);
        output
    };
    // The first frame only lets widgets find their size.
    frame();
    let output = frame();
    let scale = output.pixels_per_point;
    let primitives = context.tessellate(output.shapes, scale);
    let pixels = [size.x, size.y].map(|side| (side * scale).round() as usize);
    painter.paint(pixels, scale, Color32::TRANSPARENT, &primitives)
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::epaint::{ImageDelta, Mesh, Vertex, WHITE_UV};
    use egui::{ColorImage, Pos2, Rect, TextureOptions, pos2};

    fn painter_with(image: ColorImage, options: TextureOptions) -> Painter {
        let mut delta = TexturesDelta::default();
        delta.push(TextureId::Managed(0), ImageDelta::full(image, options));
        let mut painter = Painter::default();
        painter.update(&mut delta);
        painter
    }

    fn white() -> Painter {
        painter_with(
            ColorImage::filled([1, 1], Color32::WHITE),
            TextureOptions::LINEAR,
        )
    }

    fn mesh(points: &[(Pos2, Color32)], clip_rect: Rect) -> ClippedPrimitive {
        ClippedPrimitive {
            clip_rect,
            primitive: Primitive::Mesh(Mesh {
                indices: (0..points.len() as u32).collect(),
                vertices: points
                    .iter()
                    .map(|&(pos, color)| Vertex {
                        pos,
                        uv: WHITE_UV,
                        color,
                    })
                    .collect(),
                texture_id: TextureId::Managed(0),
            }),
        }
    }

    fn square(colour: Color32) -> Vec<(Pos2, Color32)> {
        let [a, b, c, d] = [
            pos2(0.0, 0.0),
            pos2(8.0, 0.0),
            pos2(8.0, 8.0),
            pos2(0.0, 8.0),
        ];
        [a, b, c, a, c, d].map(|p| (p, colour)).to_vec()
    }

    #[test]
    fn a_shared_edge_is_blended_once() {
        let half = Color32::from_rgba_premultiplied(100, 0, 0, 128);
        let clip = Rect::from_min_max(Pos2::ZERO, pos2(8.0, 8.0));
        let picture = white().paint(
            [8, 8],
            1.0,
            Color32::TRANSPARENT,
            &[mesh(&square(half), clip)],
        );
        for y in 0..8 {
            for x in 0..8 {
                assert_eq!(picture.pixel(x, y), Some([100, 0, 0, 128]), "at {x}, {y}");
            }
        }
        assert_eq!(picture.pixel(8, 0), None);
    }

    #[test]
    fn the_clip_rectangle_and_the_scale_hold() {
        let clip = Rect::from_min_max(pos2(1.0, 2.0), pos2(3.0, 4.0));
        let picture = white().paint(
            [16, 16],
            2.0,
            Color32::BLACK,
            &[mesh(&square(Color32::WHITE), clip)],
        );
        let painted = (0..16)
            .flat_map(|y| (0..16).map(move |x| (x, y)))
            .filter(|&(x, y)| picture.pixel(x, y) == Some([255; 4]));
        let expected: Vec<_> = (4..8).flat_map(|y| (2..6).map(move |x| (x, y))).collect();
        assert_eq!(painted.collect::<Vec<_>>(), expected);
    }

    #[test]
    fn colours_are_mixed_between_corners() {
        let clip = Rect::from_min_max(Pos2::ZERO, pos2(8.0, 8.0));
        let points = [
            (pos2(0.0, 0.0), Color32::BLACK),
            (pos2(16.0, 0.0), Color32::WHITE),
            (pos2(0.0, 16.0), Color32::BLACK),
        ];
        let picture = white().paint([8, 8], 1.0, Color32::BLACK, &[mesh(&points, clip)]);
        // At the centre of pixel 3 the mix is 3.5 / 16 of white.
        let expected = (3.5_f32 / 16.0 * 255.0).round() as u8;
        assert_eq!(picture.pixel(3, 0).map(|p| p[0]), Some(expected));
    }

    #[test]
    fn a_patched_texture_is_sampled_between_texels() {
        let mut painter = painter_with(
            ColorImage::filled([2, 1], Color32::BLACK),
            TextureOptions::LINEAR,
        );
        let mut delta = TexturesDelta::default();
        delta.push(
            TextureId::Managed(0),
            ImageDelta::partial(
                [1, 0],
                ColorImage::filled([1, 1], Color32::WHITE),
                TextureOptions::LINEAR,
            ),
        );
        painter.update(&mut delta);
        let texture = &painter.textures[&TextureId::Managed(0)];
        assert_eq!(texture.sample(pos2(0.25, 0.5))[0], 0.0);
        assert_eq!(texture.sample(pos2(0.5, 0.5))[0], 0.5);
        assert_eq!(texture.sample(pos2(1.0, 0.5))[0], 1.0);
    }

    #[test]
    fn png_is_read_back_unchanged() {
        let half = Color32::from_rgba_premultiplied(100, 50, 0, 128);
        let picture = Picture::filled(3, 2, half);
        let png = picture.to_png().unwrap();
        let decoder = png::Decoder::new(std::io::Cursor::new(png));
        let mut reader = decoder.read_info().unwrap();
        let mut bytes = vec![0; reader.output_buffer_size().unwrap()];
        let info = reader.next_frame(&mut bytes).unwrap();
        assert_eq!((info.width, info.height), (3, 2));
        assert_eq!(&bytes[..4], &[199, 100, 0, 128]);
    }

    #[test]
    fn a_label_leaves_ink() {
        let picture = draw(
            egui::vec2(80.0, 20.0),
            1.0,
            |_| {},
            |ui| {
                ui.label("Oat");
            },
        );
        let inked = (0..20)
            .flat_map(|y| (0..80).map(move |x| (x, y)))
            .filter(|&(x, y)| picture.pixel(x, y).is_some_and(|p| p[3] > 128))
            .count();
        assert!(inked > 20, "{inked} pixels");
    }
}
