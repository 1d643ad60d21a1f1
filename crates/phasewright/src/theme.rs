//! Every colour, spacing and typeface of the window, and nothing else defines one.
//!
//! Light is warm paper, dark is slate; one accent, a deep teal. Phases are tinted
//! by position and carry their letter. Constituent classes use the palette of
//! Okabe and Ito ("Color Universal Design", 2008), which people with any common
//! colour vision can tell apart, and a hatch where two classes share a colour.
//! Findings carry a shape and a word besides a colour.

use std::sync::{Arc, LazyLock};

use eframe::egui::{
    self, Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Margin, Stroke,
    TextStyle, Theme, Vec2, epaint::Shadow, style::WidgetVisuals,
};
use formulation::finding::Level;
use formulation::material::{Charge, Class};
use packed::packed;

use crate::state::Motion;
use crate::state::motion::system_is_still;

/// Space between groups of a sheet, in points.
pub const GAP: f32 = 12.0;
/// Space inside a group, in points.
pub const TIGHT: f32 = 6.0;
/// Height of a field or button in a row, in points.
pub const FIELD: f32 = 24.0;
/// Size of figures at a scale, in points.
pub const TINY: f32 = 9.5;

/// How much of the ink the handle of a scroll bar has.
const SCROLL_HANDLE: f32 = 0.55;
/// How much is left of what cannot be used now.
const DISABLED: f32 = 0.55;

/// The colours of one theme.
pub struct Palette {
    /// The window's ground.
    pub ground: Color32,
    /// Bars, side panels and bands.
    pub panel: Color32,
    /// Fields, cards, the page one writes on.
    pub page: Color32,
    /// Hairlines that only please.
    pub rule: Color32,
    /// Edges that tell where a field, a button, a track is; signs that cannot be used now.
    pub edge: Color32,
    /// Text.
    pub ink: Color32,
    /// Secondary text.
    pub faint_ink: Color32,
    /// The accent: what is chosen, what one acts on.
    pub accent: Color32,
    /// Text on the accent.
    pub on_accent: Color32,
    /// The band of the usual range on a slider.
    pub usual: Color32,
    /// A wash of the accent behind a chosen row.
    pub chosen: Color32,
    /// A wash behind what the pointer is on.
    pub hovered: Color32,
    /// Breach, caution, note.
    pub levels: [Color32; 3],
    /// Signs on a filled mark of a level.
    pub on_level: Color32,
    /// Washes behind findings, in the same order.
    pub level_washes: [Color32; 3],
    /// Tints of the phases by position, repeated when there are more.
    pub phases: [Color32; 6],
    /// Hatch lines over a class colour, for light and for dark ones; see [`Palette::hatch_on`].
    pub hatches: [Color32; 2],
    /// Grey classes, in two steps, and the ground of what is unknown.
    pub greys: [Color32; 3],
}

/// Warm paper.
pub const LIGHT: Palette = Palette {
    ground: Color32::from_rgb(0xF4, 0xEE, 0xE2),
    panel: Color32::from_rgb(0xEB, 0xE3, 0xD3),
    page: Color32::from_rgb(0xFC, 0xF9, 0xF2),
    rule: Color32::from_rgb(0xD3, 0xC8, 0xB3),
    edge: Color32::from_rgb(0x85, 0x7B, 0x6A),
    ink: Color32::from_rgb(0x2B, 0x27, 0x22),
    faint_ink: Color32::from_rgb(0x5C, 0x54, 0x48),
    accent: Color32::from_rgb(0x0B, 0x62, 0x60),
    on_accent: Color32::from_rgb(0xFB, 0xF8, 0xF1),
    usual: Color32::from_rgb(0xA9, 0xCB, 0xC2),
    chosen: Color32::from_rgb(0xDA, 0xE6, 0xDF),
    hovered: Color32::from_rgb(0xE4, 0xDC, 0xCA),
    levels: [
        Color32::from_rgb(0xA0, 0x12, 0x2A),
        Color32::from_rgb(0x84, 0x56, 0x00),
        Color32::from_rgb(0x2C, 0x5F, 0x8A),
    ],
    on_level: Color32::from_rgb(0xFF, 0xFC, 0xF5),
    level_washes: [
        Color32::from_rgb(0xF6, 0xDD, 0xD4),
        Color32::from_rgb(0xF5, 0xE6, 0xC4),
        Color32::from_rgb(0xDD, 0xE7, 0xEC),
    ],
    phases: [
        Color32::from_rgb(0xC4, 0xD4, 0xD8),
        Color32::from_rgb(0xDD, 0xCF, 0xA9),
        Color32::from_rgb(0xC9, 0xD2, 0xB4),
        Color32::from_rgb(0xE0, 0xC6, 0xB6),
        Color32::from_rgb(0xCF, 0xC7, 0xD8),
        Color32::from_rgb(0xD5, 0xCE, 0xC2),
    ],
    hatches: [
        Color32::from_rgba_premultiplied(0x1F, 0x1C, 0x19, 0xC8),
        Color32::from_rgba_premultiplied(0xDA, 0xD7, 0xD1, 0xDC),
    ],
    greys: [
        Color32::from_rgb(0x6A, 0x66, 0x5F),
        Color32::from_rgb(0xBD, 0xB6, 0xA9),
        Color32::from_rgb(0xF7, 0xF2, 0xE7),
    ],
};

/// Slate.
pub const DARK: Palette = Palette {
    ground: Color32::from_rgb(0x1D, 0x22, 0x26),
    panel: Color32::from_rgb(0x26, 0x2C, 0x31),
    page: Color32::from_rgb(0x16, 0x1A, 0x1D),
    rule: Color32::from_rgb(0x40, 0x49, 0x50),
    edge: Color32::from_rgb(0x7F, 0x8B, 0x93),
    ink: Color32::from_rgb(0xE8, 0xE4, 0xDA),
    faint_ink: Color32::from_rgb(0xB8, 0xB9, 0xB2),
    accent: Color32::from_rgb(0x5F, 0xBD, 0xB4),
    on_accent: Color32::from_rgb(0x10, 0x1E, 0x1E),
    usual: Color32::from_rgb(0x2F, 0x5C, 0x5A),
    chosen: Color32::from_rgb(0x25, 0x41, 0x42),
    hovered: Color32::from_rgb(0x31, 0x39, 0x3F),
    levels: [
        Color32::from_rgb(0xFF, 0x8B, 0x73),
        Color32::from_rgb(0xEF, 0xBD, 0x4C),
        Color32::from_rgb(0x8F, 0xC1, 0xE8),
    ],
    on_level: Color32::from_rgb(0x1A, 0x16, 0x10),
    level_washes: [
        Color32::from_rgb(0x4A, 0x29, 0x24),
        Color32::from_rgb(0x42, 0x37, 0x1C),
        Color32::from_rgb(0x24, 0x36, 0x43),
    ],
    phases: [
        Color32::from_rgb(0x35, 0x48, 0x4F),
        Color32::from_rgb(0x4F, 0x46, 0x2C),
        Color32::from_rgb(0x3E, 0x48, 0x31),
        Color32::from_rgb(0x51, 0x3E, 0x34),
        Color32::from_rgb(0x44, 0x3D, 0x4F),
        Color32::from_rgb(0x42, 0x44, 0x44),
    ],
    hatches: [
        Color32::from_rgba_premultiplied(0x0D, 0x0F, 0x10, 0xC8),
        Color32::from_rgba_premultiplied(0xC8, 0xC4, 0xBC, 0xDC),
    ],
    greys: [
        Color32::from_rgb(0xC4, 0xC8, 0xC8),
        Color32::from_rgb(0x62, 0x69, 0x6C),
        Color32::from_rgb(0x2C, 0x33, 0x38),
    ],
};

// The palette of Okabe and Ito, without its black.
const ORANGE: Color32 = Color32::from_rgb(0xE6, 0x9F, 0x00);
const SKY: Color32 = Color32::from_rgb(0x56, 0xB4, 0xE9);
const GREEN: Color32 = Color32::from_rgb(0x00, 0x9E, 0x73);
const YELLOW: Color32 = Color32::from_rgb(0xF0, 0xE4, 0x42);
const BLUE: Color32 = Color32::from_rgb(0x00, 0x72, 0xB2);
const VERMILION: Color32 = Color32::from_rgb(0xD5, 0x5E, 0x00);
const PURPLE: Color32 = Color32::from_rgb(0xCC, 0x79, 0xA7);

/// A pattern laid over a colour.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Hatch {
    /// The plain colour.
    Plain,
    /// Lines that rise to the right.
    Rising,
    /// Lines that fall to the right.
    Falling,
    /// Both.
    Crossed,
    /// Level lines.
    Level,
    /// Dots.
    Dotted,
}

/// How an area is filled.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Fill {
    /// The colour.
    pub colour: Color32,
    /// The pattern over it.
    pub hatch: Hatch,
}

const fn fill(colour: Color32, hatch: Hatch) -> Fill {
    Fill { colour, hatch }
}

impl Palette {
    /// The palette of a theme.
    pub const fn of(theme: Theme) -> &'static Self {
        match theme {
            Theme::Light => &LIGHT,
            Theme::Dark => &DARK,
        }
    }

    /// Colour of a level of findings.
    pub const fn level(&self, level: Level) -> Color32 {
        self.levels[level_index(level)]
    }

    /// The wash behind a finding.
    pub const fn level_wash(&self, level: Level) -> Color32 {
        self.level_washes[level_index(level)]
    }

    /// Tint of a phase, which stays when the phase moves.
    pub fn phase_of(&self, letter: &str, position: usize) -> Color32 {
        self.phase(tint(letter, position))
    }

    /// Tint of a number; see [`tint`].
    pub fn phase(&self, position: usize) -> Color32 {
        self.phases[position % self.phases.len()]
    }

    /// Fill of a constituent class; no two classes share one.
    pub const fn class(&self, class: Class) -> Fill {
        use Hatch::{Crossed, Dotted, Level, Plain, Rising};
        match class {
            Class::Water => fill(SKY, Plain),
            Class::Solvent => fill(SKY, Dotted),
            Class::Surfactant(Charge::Anionic) => fill(BLUE, Plain),
            Class::Surfactant(Charge::Amphoteric) => fill(BLUE, Rising),
            Class::Surfactant(Charge::NonIonic) => fill(GREEN, Plain),
            Class::Surfactant(Charge::Cationic) => fill(VERMILION, Plain),
            Class::Conditioner => fill(VERMILION, Rising),
            Class::Humectant => fill(YELLOW, Plain),
            Class::Antioxidant => fill(YELLOW, Rising),
            Class::Oil => fill(ORANGE, Plain),
            Class::Emulsifier => fill(ORANGE, Rising),
            Class::Thickener => fill(GREEN, Rising),
            Class::Electrolyte => fill(self.greys[0], Plain),
            Class::AcidBase => fill(self.greys[0], Rising),
            Class::Chelator => fill(self.greys[0], Dotted),
            Class::Preservative => fill(PURPLE, Plain),
            Class::Fragrance => fill(PURPLE, Rising),
            Class::Colour => fill(PURPLE, Crossed),
            Class::Other => fill(self.greys[1], Level),
        }
    }

    /// The hatch that stands out more on a colour.
    pub fn hatch_on(&self, colour: Color32) -> Color32 {
        let [dark, light] = self.hatches;
        let seen = |hatch| contrast(laid_over(hatch, colour), colour);
        if seen(light) > seen(dark) {
            light
        } else {
            dark
        }
    }

    /// Fill of water that comes in with a material.
    pub const fn water_brought_in(&self) -> Fill {
        fill(SKY, Hatch::Falling)
    }

    /// Fill of what is not known.
    pub const fn unknown(&self) -> Fill {
        fill(self.greys[2], Hatch::Crossed)
    }
}

/// Relative luminance contrast as WCAG 2.2 defines it, 1 to 21; 4.5 is level AA for text, 3 for
/// marks.
pub fn contrast(a: Color32, b: Color32) -> f32 {
    let luminance = |c: Color32| {
        let linear = |v: u8| {
            let v = f32::from(v) / 255.0;
            if v <= 0.04045 {
                v / 12.92
            } else {
                ((v + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * linear(c.r()) + 0.7152 * linear(c.g()) + 0.0722 * linear(c.b())
    };
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// What is seen of a colour that lets through some of the ground it is laid over.
fn laid_over(top: Color32, ground: Color32) -> Color32 {
    ground.blend(top)
}

/// The number of a phase's tint: that of its letter, A being 0, or its position where it has
/// another name.
pub fn tint(letter: &str, position: usize) -> usize {
    match letter.as_bytes() {
        [one] if one.is_ascii_alphabetic() => usize::from(one.to_ascii_uppercase() - b'A'),
        _ => position,
    }
}

const fn level_index(level: Level) -> usize {
    match level {
        Level::Breach => 0,
        Level::Caution => 1,
        Level::Note => 2,
    }
}

/// How one of several curves in a plot is drawn.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Curve {
    /// Its colour.
    pub colour: Color32,
    /// Its dashes, so that it is told apart without colour.
    pub style: egui_plot::LineStyle,
}

/// Colours and dashes of curves in a plot, in their order.
pub fn curves(ui: &egui::Ui) -> [Curve; 5] {
    use egui_plot::LineStyle::{Dashed, Dotted, Solid};
    let p = palette(ui);
    let curve = |colour, style| Curve { colour, style };
    [
        curve(p.accent, Solid),
        curve(VERMILION, Dashed { length: 10.0 }),
        curve(BLUE, Dotted { spacing: 5.0 }),
        curve(PURPLE, Dashed { length: 5.0 }),
        curve(GREEN, Dotted { spacing: 9.0 }),
    ]
}

/// The palette of the theme in use.
pub fn palette(ui: &egui::Ui) -> &'static Palette {
    Palette::of(ui.theme())
}

/// The bold typeface.
pub fn strong_family() -> FontFamily {
    FontFamily::Name("strong".into())
}

/// Bold text of the body size.
pub fn strong(text: impl Into<String>) -> egui::RichText {
    egui::RichText::new(text).family(strong_family())
}

/// Secondary text of the small size.
pub fn small(ui: &egui::Ui, text: impl Into<String>) -> egui::RichText {
    egui::RichText::new(text)
        .small()
        .color(palette(ui).faint_ink)
}

/// The button for the likely answer, filled with the accent.
pub fn main_button(ui: &mut egui::Ui, text: impl Into<String>) -> egui::Response {
    let p = palette(ui);
    let text = strong(text).color(p.on_accent);
    let response = ui.add(egui::Button::new(text).fill(p.accent));
    if response.has_focus() {
        // Its own fill hides the frame that others show.
        let edge = Stroke::new(1.5, p.ink);
        let outside = egui::StrokeKind::Outside;
        ui.painter()
            .rect_stroke(response.rect.expand(1.0), 4.0, edge, outside);
    }
    response
}

/// A round button that says something and leads to where it is set.
pub fn chip(ui: &mut egui::Ui, says: &str, open: bool) -> egui::Response {
    ui.scope(|ui| {
        // High enough that no letter runs into its edge.
        ui.spacing_mut().button_padding.y = 1.0;
        ui.spacing_mut().interact_size.y = FIELD - 2.0;
        let round = egui::Button::new(says).corner_radius(11);
        ui.add(round.selected(open))
    })
    .inner
}

/// The caption before a field, in a column of a width.
pub fn caption(ui: &mut egui::Ui, width: f32, text: impl Into<egui::WidgetText>) {
    let size = Vec2::new(width, FIELD);
    let left = egui::Layout::left_to_right(egui::Align::Center);
    ui.allocate_ui_with_layout(size, left, |ui| {
        ui.set_min_size(size);
        ui.add(egui::Label::new(text).truncate());
    });
}

/// A cell of a width, whose content ends at its right side.
pub fn right_aligned(ui: &mut egui::Ui, width: f32, add: impl FnOnce(&mut egui::Ui)) {
    let right = egui::Layout::right_to_left(egui::Align::Center);
    ui.allocate_ui_with_layout(Vec2::new(width, 16.0), right, |ui| {
        ui.set_min_width(width);
        add(ui);
    });
}

/// A heading within a sheet.
pub fn heading(text: impl Into<String>) -> egui::RichText {
    egui::RichText::new(text).text_style(TextStyle::Heading)
}

/// Prepares fonts and both themes of a context. Call it once for each context.
pub fn install(context: &egui::Context) {
    context.set_fonts(fonts());
    // Where the system states no preference.
    context.options_mut(|o| o.fallback_theme = Theme::Light);
    for theme in [Theme::Light, Theme::Dark] {
        context.style_mut_of(theme, |style| restyle(style, theme));
    }
}

/// Whether things may glide and fade.
pub fn set_motion(context: &egui::Context, motion: Motion) {
    let still = match motion {
        Motion::Still => true,
        Motion::Full => false,
        Motion::System => system_is_still(),
    };
    let usual = egui::Style::default();
    for theme in [Theme::Light, Theme::Dark] {
        context.style_mut_of(theme, |style| {
            if still {
                style.animation_time = 0.0;
                style.scroll_animation = egui::style::ScrollAnimation::none();
            } else {
                style.animation_time = usual.animation_time;
                style.scroll_animation = usual.scroll_animation;
            }
        });
    }
}

/// Letters of code, and letters and signs that our own typefaces lack.
static HACK: LazyLock<Vec<u8>> = LazyLock::new(|| packed!("hack.ttf").bytes());

/// Unpacks the typefaces, which are kept.
pub fn unpack_fonts() {
    fonts();
}

fn fonts() -> FontDefinitions {
    let mut fonts = FontDefinitions::empty();
    let faces = [
        ("regular", &formulation::fonts::REGULAR),
        ("bold", &formulation::fonts::BOLD),
        ("symbols", &formulation::fonts::SYMBOLS),
        ("code", &HACK),
    ];
    for (name, bytes) in faces {
        fonts
            .font_data
            .insert(name.to_owned(), Arc::new(FontData::from_static(bytes)));
    }
    let chains = [
        (FontFamily::Proportional, ["regular", "symbols", "code"]),
        (strong_family(), ["bold", "symbols", "code"]),
        (FontFamily::Monospace, ["code", "regular", "symbols"]),
    ];
    for (family, chain) in chains {
        fonts
            .families
            .insert(family, chain.map(str::to_owned).to_vec());
    }
    fonts
}

fn restyle(style: &mut egui::Style, theme: Theme) {
    let p = Palette::of(theme);
    style.text_styles = [
        (TextStyle::Heading, FontId::new(16.0, strong_family())),
        (TextStyle::Body, FontId::proportional(13.5)),
        (TextStyle::Button, FontId::proportional(13.5)),
        (TextStyle::Small, FontId::proportional(11.5)),
        (TextStyle::Monospace, FontId::monospace(12.5)),
    ]
    .into();
    style.spacing.item_spacing = Vec2::new(8.0, TIGHT);
    style.spacing.button_padding = Vec2::new(8.0, 3.0);
    style.spacing.interact_size = Vec2::new(32.0, FIELD);
    style.spacing.window_margin = Margin::same(16);
    style.spacing.menu_margin = Margin::same(6);
    let scroll = &mut style.spacing.scroll;
    scroll.floating = true;
    // No more than a hint of what follows: words stay legible to the edge.
    scroll.fade.size = 8.0;
    scroll.bar_width = 8.0;
    scroll.floating_width = 8.0;
    scroll.floating_allocated_width = 12.0;
    scroll.bar_outer_margin = 1.0;
    scroll.dormant_background_opacity = 0.0;
    scroll.active_background_opacity = 0.0;
    scroll.interact_background_opacity = 0.0;
    scroll.dormant_handle_opacity = SCROLL_HANDLE;
    scroll.active_handle_opacity = SCROLL_HANDLE;
    scroll.interact_handle_opacity = 0.8;
    scroll.handle_min_length = 28.0;
    style.spacing.combo_width = 80.0;
    style.spacing.tooltip_width = 360.0;
    style.interaction.selectable_labels = false;
    style.interaction.tooltip_delay = 0.35;

    let v = &mut style.visuals;
    let widget = |fill: Color32, line: Color32, ink: Color32| WidgetVisuals {
        bg_fill: fill,
        weak_bg_fill: fill,
        bg_stroke: Stroke::new(1.0, line),
        fg_stroke: Stroke::new(1.0, ink),
        corner_radius: CornerRadius::same(4),
        expansion: 0.0,
    };
    v.dark_mode = theme == Theme::Dark;
    v.disabled_alpha = DISABLED;
    v.widgets.noninteractive = widget(p.ground, p.rule, p.ink);
    v.widgets.inactive = widget(p.page, p.edge, p.ink);
    v.widgets.hovered = widget(p.hovered, p.faint_ink, p.ink);
    v.widgets.active = widget(p.chosen, p.accent, p.ink);
    v.widgets.open = widget(p.hovered, p.faint_ink, p.ink);
    v.selection.bg_fill = p.chosen;
    v.selection.stroke = Stroke::new(1.0, p.accent);
    v.weak_text_color = Some(p.faint_ink);
    v.hyperlink_color = p.accent;
    v.faint_bg_color = p.panel;
    v.extreme_bg_color = p.page;
    v.code_bg_color = p.panel;
    v.warn_fg_color = p.levels[1];
    v.error_fg_color = p.levels[0];
    v.window_fill = p.ground;
    v.window_stroke = Stroke::new(1.0, p.rule);
    v.window_corner_radius = CornerRadius::same(8);
    v.menu_corner_radius = CornerRadius::same(6);
    v.panel_fill = p.ground;
    v.text_cursor.stroke = Stroke::new(2.0, p.accent);
    // A cursor that blinks draws the window twice a second for nothing.
    v.text_cursor.blink = false;
    v.window_shadow = Shadow {
        offset: [0, 6],
        blur: 18,
        spread: 0,
        color: Color32::from_black_alpha(50),
    };
    v.popup_shadow = Shadow {
        offset: [0, 3],
        blur: 10,
        spread: 0,
        color: Color32::from_black_alpha(40),
    };
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Text of every colour on every ground it stands on.
    #[test]
    fn text_is_legible_in_both_themes() {
        for p in [&LIGHT, &DARK] {
            let plain = [p.ink, p.faint_ink, p.accent];
            let grounds = [p.ground, p.panel, p.page, p.chosen, p.hovered];
            let mut pairs = Vec::new();
            for ground in grounds {
                let inks = plain.into_iter().chain(p.levels);
                pairs.extend(inks.map(|ink| (ink, ground)));
                assert!(contrast(p.ink, ground) >= 7.0);
            }
            for (level, wash) in p.levels.into_iter().zip(p.level_washes) {
                pairs.extend([(level, wash), (p.ink, wash), (p.faint_ink, wash)]);
            }
            for tint in p.phases {
                pairs.extend([(p.ink, tint), (p.faint_ink, tint)]);
            }
            pairs.push((p.on_accent, p.accent));
            for (ink, ground) in pairs {
                let ratio = contrast(ink, ground);
                assert!(ratio >= 4.5, "{ink:?} on {ground:?}: {ratio}");
            }
        }
    }

    /// 3 to 1 for what has to be seen to use something: WCAG 2.2, success criterion 1.4.11.
    #[test]
    fn marks_and_edges_are_seen_in_both_themes() {
        for p in [&LIGHT, &DARK] {
            let grounds = [p.ground, p.panel, p.page, p.chosen, p.hovered];
            let mut pairs = Vec::new();
            for ground in grounds {
                let marks = [p.edge, p.faint_ink, p.accent].into_iter();
                pairs.extend(marks.chain(p.levels).map(|mark| (mark, ground)));
            }
            pairs.extend(p.levels.map(|level| (p.on_level, level)));
            // The handle of a slider on its usual range.
            pairs.push((p.accent, p.usual));
            // The handle of a scroll bar.
            for ground in [p.ground, p.panel, p.page] {
                let handle = p.ink.gamma_multiply(SCROLL_HANDLE);
                pairs.push((laid_over(handle, ground), ground));
            }
            // Every pattern on its colour.
            for fill in fills(p).into_iter().filter(|f| f.hatch != Hatch::Plain) {
                let hatch = p.hatch_on(fill.colour);
                pairs.push((laid_over(hatch, fill.colour), fill.colour));
            }
            for (mark, ground) in pairs {
                let ratio = contrast(mark, ground);
                assert!(ratio >= 3.0, "{mark:?} on {ground:?}: {ratio}");
            }
        }
    }

    /// What cannot be used now is exempt in WCAG 2.2 (1.4.3, 1.4.11), but one should see what it
    /// would be: 3 to 1 as well.
    #[test]
    fn what_cannot_be_used_is_recognised_in_both_themes() {
        for p in [&LIGHT, &DARK] {
            for ground in [p.ground, p.panel, p.page] {
                let words = laid_over(p.ink.gamma_multiply(DISABLED), ground);
                for (what, seen) in [("sign", p.edge), ("words", words)] {
                    let ratio = contrast(seen, ground);
                    assert!(ratio >= 3.0, "{what} on {ground:?}: {ratio}");
                }
                // And not taken for one that can be used.
                assert!(contrast(p.faint_ink, p.edge) >= 1.5);
            }
        }
    }

    /// How every part of a chart is filled.
    fn fills(p: &Palette) -> Vec<Fill> {
        let mut fills: Vec<Fill> = Class::ALL.map(|c| p.class(c)).to_vec();
        fills.extend([p.water_brought_in(), p.unknown()]);
        fills
    }

    /// Simulation of missing cones on linear RGB: G. M. Machado, M. M. Oliveira, L. A. F.
    /// Fernandes, A Physiologically-based Model for Simulation of Color Vision Deficiency, IEEE
    /// TVCG 15 (2009) 1291, doi 10.1109/TVCG.2009.113, severity 1.0; and sight without any.
    const SIGHTS: [(&str, [[f64; 3]; 3]); 4] = [
        ("usual", [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]),
        (
            "protanopia",
            [
                [0.152286, 1.052583, -0.204868],
                [0.114503, 0.786281, 0.099216],
                [-0.003882, -0.048116, 1.051998],
            ],
        ),
        (
            "deuteranopia",
            [
                [0.367322, 0.860646, -0.227968],
                [0.280085, 0.672501, 0.047413],
                [-0.011820, 0.042940, 0.968881],
            ],
        ),
        (
            "tritanopia",
            [
                [1.255528, -0.076749, -0.178779],
                [-0.078411, 0.930809, 0.147602],
                [0.004733, 0.691367, 0.303900],
            ],
        ),
    ];

    /// CIE 1976 L*a*b* of a colour of sRGB (IEC 61966-2-1, white D65) as such an eye sees it.
    fn lab(c: Color32, sight: &[[f64; 3]; 3]) -> [f64; 3] {
        let linear = [c.r(), c.g(), c.b()].map(|v| {
            let v = f64::from(v) / 255.0;
            if v <= 0.04045 {
                v / 12.92
            } else {
                ((v + 0.055) / 1.055).powf(2.4)
            }
        });
        let dot = |row: &[f64; 3], v: &[f64; 3]| row.iter().zip(v).map(|(a, b)| a * b).sum::<f64>();
        let seen = [0, 1, 2].map(|i| dot(&sight[i], &linear).clamp(0.0, 1.0));
        const XYZ: [[f64; 3]; 3] = [
            [0.412_456_4, 0.357_576_1, 0.180_437_5],
            [0.212_672_9, 0.715_152_2, 0.072_175_0],
            [0.019_333_9, 0.119_192_0, 0.950_304_1],
        ];
        const WHITE: [f64; 3] = [0.950_47, 1.0, 1.088_83];
        let [x, y, z] = [0, 1, 2].map(|i| {
            let t = dot(&XYZ[i], &seen) / WHITE[i];
            let d = 6.0_f64 / 29.0;
            if t > d.powi(3) {
                t.cbrt()
            } else {
                t / (3.0 * d * d) + 4.0 / 29.0
            }
        });
        [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
    }

    /// CIE 1976 ΔE of two colours as such an eye sees them.
    fn apart(a: Color32, b: Color32, sight: &[[f64; 3]; 3]) -> f64 {
        let (a, b) = (lab(a, sight), lab(b, sight));
        a.iter()
            .zip(b)
            .map(|(a, b)| (a - b).powi(2))
            .sum::<f64>()
            .sqrt()
    }

    /// Classes that share a hatch differ by at least 12 in CIE 1976 ΔE to every eye, about
    /// five times what is just noticed (2.3: M. Mahy et al., Color Res. Appl. 19 (1994) 105).
    #[test]
    fn classes_are_told_apart_by_every_eye() {
        for p in [&LIGHT, &DARK] {
            let fills = fills(p);
            for (name, sight) in &SIGHTS {
                for (i, a) in fills.iter().enumerate() {
                    for b in fills[..i].iter().filter(|b| b.hatch == a.hatch) {
                        let apart = apart(a.colour, b.colour, sight);
                        assert!(apart >= 12.0, "{name}: {a:?} and {b:?}: {apart}");
                    }
                }
            }
        }
    }

    /// So are the levels of findings, whose marks differ in shape as well.
    #[test]
    fn levels_are_told_apart_by_every_eye() {
        for p in [&LIGHT, &DARK] {
            for (name, sight) in &SIGHTS {
                for (i, a) in p.levels.iter().enumerate() {
                    for b in &p.levels[..i] {
                        let apart = apart(*a, *b, sight);
                        assert!(apart >= 12.0, "{name}: {a:?} and {b:?}: {apart}");
                    }
                }
            }
        }
    }

    /// The value of L*a*b* of a known colour: sRGB red is 53.24, 80.09, 67.20 (from memory).
    #[test]
    fn lab_of_red() {
        let [l, a, b] = lab(Color32::from_rgb(255, 0, 0), &SIGHTS[0].1);
        assert!((l - 53.24).abs() < 0.05 && (a - 80.09).abs() < 0.05 && (b - 67.20).abs() < 0.05);
    }

    #[test]
    fn a_phase_keeps_its_tint_when_it_moves() {
        assert_eq!(tint("A", 2), 0);
        assert_eq!(tint("c", 0), 2);
        assert_eq!(tint("A1", 4), 4);
        assert_eq!(tint("", 1), 1);
        // The seventh phase begins anew.
        assert_eq!(LIGHT.phase_of("G", 0), LIGHT.phases[0]);
    }

    #[test]
    fn no_two_classes_look_the_same() {
        for p in [&LIGHT, &DARK] {
            let fills = fills(p);
            for (i, a) in fills.iter().enumerate() {
                assert!(!fills[..i].contains(a), "{a:?} is used twice");
            }
        }
    }
}
