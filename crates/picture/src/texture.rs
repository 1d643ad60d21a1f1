//! Textures as egui sends them, and how they are sampled.

use egui::epaint::ImageDelta;
use egui::{Color32, ImageData, Pos2, TextureFilter, TextureOptions, TextureWrapMode};

/// One texture held in memory.
pub struct Texture {
    width: usize,
    height: usize,
    texels: Vec<Color32>,
    options: TextureOptions,
}

impl Texture {
    /// A texture from an update that carries the whole of it.
    pub fn whole(delta: &ImageDelta) -> Self {
        let ImageData::Color(image) = &delta.image;
        Self {
            width: image.width(),
            height: image.height(),
            texels: image.pixels.clone(),
            options: delta.options,
        }
    }

    /// Writes an update of a part; what lies outside is left out.
    pub fn patch(&mut self, [left, top]: [usize; 2], delta: &ImageDelta) {
        let ImageData::Color(image) = &delta.image;
        self.options = delta.options;
        let columns = image.width().min(self.width.saturating_sub(left));
        let rows = image.pixels.chunks_exact(image.width().max(1));
        for (row, source) in rows.enumerate().take(self.height.saturating_sub(top)) {
            let start = (top + row) * self.width + left;
            if let Some(target) = self.texels.get_mut(start..start + columns) {
                target.copy_from_slice(&source[..columns]);
            }
        }
    }

    /// The colour at a texture coordinate, each channel from 0 to 1.
    pub fn sample(&self, uv: Pos2) -> [f32; 4] {
        let x = uv.x * self.width as f32 - 0.5;
        let y = uv.y * self.height as f32 - 0.5;
        if self.options.magnification == TextureFilter::Nearest {
            return channels(self.texel(x.round() as i64, y.round() as i64));
        }
        let (left, top) = (x.floor(), y.floor());
        let (right_part, lower_part) = (x - left, y - top);
        let (column, row) = (left as i64, top as i64);
        let corner =
            |dx, dy, weight: f32| channels(self.texel(column + dx, row + dy)).map(|c| c * weight);
        let corners = [
            corner(0, 0, (1.0 - right_part) * (1.0 - lower_part)),
            corner(1, 0, right_part * (1.0 - lower_part)),
            corner(0, 1, (1.0 - right_part) * lower_part),
            corner(1, 1, right_part * lower_part),
        ];
        std::array::from_fn(|i| corners.iter().map(|c| c[i]).sum())
    }

    fn texel(&self, x: i64, y: i64) -> Color32 {
        let x = wrap(self.options.wrap_mode, x, self.width as i64);
        let y = wrap(self.options.wrap_mode, y, self.height as i64);
        self.texels
            .get(y * self.width + x)
            .copied()
            .unwrap_or(Color32::TRANSPARENT)
    }
}

fn wrap(mode: TextureWrapMode, at: i64, size: i64) -> usize {
    let size = size.max(1);
    let inside = match mode {
        TextureWrapMode::ClampToEdge => at.clamp(0, size - 1),
        TextureWrapMode::Repeat => at.rem_euclid(size),
        TextureWrapMode::MirroredRepeat => {
            let place = at.rem_euclid(2 * size);
            place.min(2 * size - 1 - place)
        }
    };
    inside as usize
}

pub fn channels(colour: Color32) -> [f32; 4] {
    colour.to_array().map(|c| f32::from(c) / 255.0)
}
