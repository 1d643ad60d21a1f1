//! Every colour, spacing and typeface of the window, and nothing else defines one.
//!
//! Light is warm paper, dark is slate; one accent, a deep teal. Phases are tinted
//! by position and carry their letter. Constituent classes use the palette of
//! Okabe and Ito ("Color Universal Design", 2008), which people with any common
//! colour vision can tell apart, and a hatch where two classes share a colour.
//! Findings carry a shape and a word besides a colour.

use std::sync::Arc;

use eframe::egui::{
    self, Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Margin, Stroke,
    TextStyle, Theme, Vec2, epaint::Shadow, style::WidgetVisuals,
};
use formulation::finding::Level;
use formulation::material::{Charge, Class};

/// Space between groups of a sheet, in points.
pub const GAP: f32 = 12.0;
/// Space inside a group, in points.
pub const TIGHT: f32 = 6.0;
/// Height of a field or button in a row, in points.
pub const FIELD: f32 = 24.0;

/// The colours of one theme.
pub struct Palette {
    /// The window's ground.
    pub ground: Color32,
    /// Bars, side panels and bands.
    pub panel: Color32,
    /// Fields, cards, the page one writes on.
    pub page: Color32,
    /// Hairlines.
    pub rule: Color32,
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
    /// The colour of hatch lines over a class colour.
    pub hatch: Color32,
    /// Grey classes, in two steps, and the ground of what is unknown.
    pub greys: [Color32; 3],
}

/// Warm paper.
pub const LIGHT: Palette = Palette {
    ground: Color32::from_rgb(0xF4, 0xEE, 0xE2),
    panel: Color32::from_rgb(0xEB, 0xE3, 0xD3),
    page: Color32::from_rgb(0xFC, 0xF9, 0xF2),
    rule: Color32::from_rgb(0xD3, 0xC8, 0xB3),
    ink: Color32::from_rgb(0x2B, 0x27, 0x22),
    faint_ink: Color32::from_rgb(0x68, 0x5F, 0x53),
    accent: Color32::from_rgb(0x0B, 0x62, 0x60),
    on_accent: Color32::from_rgb(0xFB, 0xF8, 0xF1),
    usual: Color32::from_rgb(0xA9, 0xCB, 0xC2),
    chosen: Color32::from_rgb(0xDA, 0xE6, 0xDF),
    hovered: Color32::from_rgb(0xE4, 0xDC, 0xCA),
    levels: [
        Color32::from_rgb(0xB0, 0x30, 0x1C),
        Color32::from_rgb(0x8A, 0x5A, 0x00),
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
    hatch: Color32::from_rgba_premultiplied(0x17, 0x15, 0x13, 0x96),
    greys: [
        Color32::from_rgb(0x8C, 0x87, 0x7E),
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
    ink: Color32::from_rgb(0xE8, 0xE4, 0xDA),
    faint_ink: Color32::from_rgb(0xA5, 0xA6, 0xA0),
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
        Color32::from_rgb(0x3B, 0x50, 0x58),
        Color32::from_rgb(0x57, 0x4D, 0x30),
        Color32::from_rgb(0x45, 0x50, 0x36),
        Color32::from_rgb(0x59, 0x44, 0x39),
        Color32::from_rgb(0x4A, 0x43, 0x56),
        Color32::from_rgb(0x48, 0x4A, 0x4A),
    ],
    hatch: Color32::from_rgba_premultiplied(0x0A, 0x0C, 0x0D, 0xA0),
    greys: [
        Color32::from_rgb(0x8E, 0x92, 0x92),
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

    /// Tint of the phase at a position.
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

    /// Fill of water that comes in with a material.
    pub const fn water_brought_in(&self) -> Fill {
        fill(SKY, Hatch::Falling)
    }

    /// Fill of what is not known.
    pub const fn unknown(&self) -> Fill {
        fill(self.greys[2], Hatch::Crossed)
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

fn fonts() -> FontDefinitions {
    let mut fonts = FontDefinitions::default();
    let faces: [(&str, &[u8]); 3] = [
        (
            "regular",
            include_bytes!("../../../assets/fonts/NotoSans-Regular.ttf"),
        ),
        (
            "bold",
            include_bytes!("../../../assets/fonts/NotoSans-Bold.ttf"),
        ),
        (
            "symbols",
            include_bytes!("../../../assets/fonts/NotoSansMath-Symbols.ttf"),
        ),
    ];
    for (name, bytes) in faces {
        fonts
            .font_data
            .insert(name.to_owned(), Arc::new(FontData::from_static(bytes)));
    }
    let fallback = fonts
        .families
        .get(&FontFamily::Proportional)
        .cloned()
        .unwrap_or_default();
    let chain = |first: &str| {
        [first.to_owned(), "symbols".to_owned()]
            .into_iter()
            .chain(fallback.iter().cloned())
            .collect::<Vec<_>>()
    };
    fonts
        .families
        .insert(FontFamily::Proportional, chain("regular"));
    fonts.families.insert(strong_family(), chain("bold"));
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
    scroll.bar_width = 8.0;
    scroll.floating_width = 8.0;
    scroll.floating_allocated_width = 12.0;
    scroll.bar_outer_margin = 1.0;
    scroll.dormant_background_opacity = 0.0;
    scroll.active_background_opacity = 0.0;
    scroll.interact_background_opacity = 0.0;
    scroll.dormant_handle_opacity = 0.25;
    scroll.active_handle_opacity = 0.25;
    scroll.interact_handle_opacity = 0.55;
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
    v.widgets.noninteractive = widget(p.ground, p.rule, p.ink);
    v.widgets.inactive = widget(p.page, p.rule, p.ink);
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

    /// Relative luminance contrast as WCAG 2.2 defines it; 4.5 is level AA for text.
    fn contrast(a: Color32, b: Color32) -> f32 {
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

    #[test]
    fn text_is_legible_in_both_themes() {
        for p in [&LIGHT, &DARK] {
            for ground in [p.ground, p.panel, p.page, p.chosen, p.hovered] {
                for ink in [p.ink, p.faint_ink].into_iter().chain(p.levels) {
                    let ratio = contrast(ink, ground);
                    assert!(ratio >= 4.0, "{ink:?} on {ground:?}: {ratio}");
                }
                assert!(contrast(p.ink, ground) >= 7.0);
            }
            assert!(contrast(p.on_accent, p.accent) >= 4.5);
            for (ink, wash) in p.levels.into_iter().zip(p.level_washes) {
                assert!(contrast(ink, wash) >= 4.5, "{ink:?} on {wash:?}");
            }
            for tint in p.phases {
                assert!(contrast(p.ink, tint) >= 4.5);
            }
        }
    }

    #[test]
    fn no_two_classes_look_the_same() {
        for p in [&LIGHT, &DARK] {
            let mut fills: Vec<Fill> = Class::ALL.map(|c| p.class(c)).to_vec();
            fills.extend([p.water_brought_in(), p.unknown()]);
            for (i, a) in fills.iter().enumerate() {
                assert!(!fills[..i].contains(a), "{a:?} is used twice");
            }
        }
    }
}
