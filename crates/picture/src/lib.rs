//! CPU pictures of egui meshes.
//!
//! [`Painter`] keeps egui's textures and fills triangles the way a graphics card
//! would: vertex colours and texels are multiplied and blended in gamma space
//! with premultiplied alpha, pixels are sampled at their centres, and an edge
//! shared by two triangles is drawn once (top-left rule). No graphics driver is
//! needed, and the same shapes give the same bytes on every machine.

mod painter;
mod raster;
mod texture;

pub use painter::{Painter, draw};

use std::fmt;

/// A finished picture: rows from the top, premultiplied RGBA, eight bits each.
#[derive(Clone, PartialEq, Eq)]
pub struct Picture {
    width: usize,
    height: usize,
    pixels: Vec<[u8; 4]>,
}

/// Why a picture could not be written as PNG.
#[derive(Debug, thiserror::Error)]
#[error("the picture could not be encoded as PNG: {0}")]
pub struct EncodeError(#[from] png::EncodingError);

impl Picture {
    /// A picture of one colour.
    pub fn filled(width: usize, height: usize, colour: egui::Color32) -> Self {
        Self {
            width,
            height,
            pixels: vec![colour.to_array(); width * height],
        }
    }

    /// Width in pixels.
    pub const fn width(&self) -> usize {
        self.width
    }

    /// Height in pixels.
    pub const fn height(&self) -> usize {
        self.height
    }

    /// The premultiplied colour of a pixel; `None` outside the picture.
    pub fn pixel(&self, x: usize, y: usize) -> Option<[u8; 4]> {
        (x < self.width)
            .then(|| self.pixels.get(y * self.width + x).copied())
            .flatten()
    }

    /// All bytes as RGBA with alpha not multiplied in, as PNG wants them.
    pub fn to_straight_rgba(&self) -> Vec<u8> {
        self.pixels
            .iter()
            .flat_map(|&[r, g, b, a]| {
                let straight = |c: u8| match a {
                    0 => 0,
                    255 => c,
                    a => ((u32::from(c) * 255 + u32::from(a) / 2) / u32::from(a)).min(255) as u8,
                };
                [straight(r), straight(g), straight(b), a]
            })
            .collect()
    }

    /// The picture as a PNG file.
    pub fn to_png(&self) -> Result<Vec<u8>, EncodeError> {
        encode(self.width, self.height, &self.to_straight_rgba())
    }
}

/// Pixels of red, green, blue and opacity, row by row, as a PNG file.
pub fn encode(width: usize, height: usize, rgba: &[u8]) -> Result<Vec<u8>, EncodeError> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, width as u32, height as u32);
    encoder.set_color(png::ColorType::Rgba);
    encoder.set_depth(png::BitDepth::Eight);
    let mut writer = encoder.write_header()?;
    writer.write_image_data(rgba)?;
    writer.finish()?;
    Ok(bytes)
}

impl fmt::Debug for Picture {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Picture({} × {})", self.width, self.height)
    }
}
