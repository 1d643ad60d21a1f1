//! The window in a test: driven through the accessibility tree, painted on the CPU.
//!
//! Size, theme, scale and tolerance of every picture are set here and nowhere else.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use egui::{Theme, Vec2};
use egui_kittest::{Harness, SnapshotOptions, TestRenderer};
use formulation::file::{formula_file, formula_table};
use formulation::formula::{Date, Formula};
use formulation::shelf::{Shelf, built_in};
use phasewright::app::Bench;
use phasewright::state::{Folders, Host, State};
use phasewright::{theme, work};

/// How a window is shown in a test.
#[derive(Clone, Copy, Debug)]
pub struct Look {
    /// Size in points.
    pub size: Vec2,
    /// Light or dark.
    pub theme: Theme,
    /// Pixels per point.
    pub scale: f32,
}

impl Look {
    /// The smallest window that must work, light.
    pub const SMALL: Self = Self {
        size: Vec2::new(1000.0, 640.0),
        theme: Theme::Light,
        scale: 1.0,
    };
    /// The usual window, light.
    pub const USUAL: Self = Self {
        size: Vec2::new(1280.0, 800.0),
        theme: Theme::Light,
        scale: 1.0,
    };
    /// The same in slate.
    pub const fn dark(mut self) -> Self {
        self.theme = Theme::Dark;
        self
    }
    /// The same with two pixels per point.
    pub const fn doubled(mut self) -> Self {
        self.scale = 2.0;
        self
    }
}

/// The day that counts as today in tests.
pub const TODAY: Date = Date::constant(2026, 3, 2);

/// A system without dialogs, on which it is always noon of [`TODAY`].
pub fn host() -> Host {
    Host::plain(|| "2026-03-02T12:00:00Z".parse().unwrap())
}

/// A state with a shelf and a formula, which writes nothing unasked.
pub fn state(shelf: Shelf, formula: Formula) -> State {
    State::new(
        host(),
        Arc::new(shelf),
        Folders::default(),
        Arc::new(formula),
    )
}

/// A window on a state. Dialogs of the system are off: paths are typed.
pub fn bench(look: Look, state: State) -> Harness<'static, Bench> {
    Harness::builder()
        .with_size(look.size)
        .with_theme(look.theme)
        .with_pixels_per_point(look.scale)
        .with_max_steps(16)
        .with_render_cursor(false)
        .with_options(SnapshotOptions::new().threshold(0.6))
        .renderer(CpuRenderer::default())
        .with_context_setup(|ctx| {
            theme::install(ctx);
            work::at_once(ctx);
        })
        .build_eframe(|_| Bench::new(state))
}

/// Folders below one folder.
pub fn folders(below: &Path) -> Folders {
    Folders {
        config: None,
        recovery: Some(below.to_path_buf()),
    }
}

/// Puts the cursor into a field, replaces what is there, and leaves the cursor there.
pub fn type_into(harness: &mut Harness<'_, Bench>, name: &str, text: &str) {
    use egui_kittest::kittest::Queryable as _;
    harness
        .get_by_role_and_label(egui::Role::TextInput, name)
        .focus();
    harness.run();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    harness.run();
    harness
        .get_by_role_and_label(egui::Role::TextInput, name)
        .type_text(text);
    harness.run();
}

/// Names a size in points, a scale and a theme in which every picture is drawn instead of its
/// own, to be looked at: `1000x640@1-dark`.
const LOOK: &str = "PICTURES_LOOK";

/// Paints the window as it is now and writes it to `target/pictures/NAME.png`, to
/// be looked at.
pub fn picture(harness: &mut Harness<'_, Bench>, name: &str) -> PathBuf {
    let asked = std::env::var(LOOK).ok();
    let look = asked.as_deref().map(look_of);
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/pictures");
    let folder = folder.join(asked.as_deref().unwrap_or_default());
    if let Some(look) = look {
        harness.set_size(look.size);
        harness.set_pixels_per_point(look.scale);
        harness.ctx.set_theme(look.theme);
        harness.run();
    }
    let image = harness.render().unwrap();
    std::fs::create_dir_all(&folder).unwrap();
    let path = folder.join(format!("{name}.png"));
    image.save(&path).unwrap();
    path
}

/// The look that [`LOOK`] names.
fn look_of(named: &str) -> Look {
    let parts = named.split_once('@').and_then(|(size, rest)| {
        let (width, height) = size.split_once('x')?;
        let (scale, theme) = rest.split_once('-')?;
        Some(Look {
            size: Vec2::new(width.parse().ok()?, height.parse().ok()?),
            scale: scale.parse().ok()?,
            theme: match theme {
                "dark" => Theme::Dark,
                "light" => Theme::Light,
                _ => return None,
            },
        })
    });
    parts.unwrap_or_else(|| panic!("{LOOK} is “{named}”; write it as 1000x640@1-dark"))
}

/// Lets egui_kittest paint with the [`picture`] crate.
#[derive(Default)]
struct CpuRenderer(picture::Painter);

impl TestRenderer for CpuRenderer {
    fn handle_delta(&mut self, delta: &mut egui::TexturesDelta) {
        self.0.update(delta);
    }

    fn render(
        &mut self,
        context: &egui::Context,
        output: &egui::FullOutput,
    ) -> Result<image::RgbaImage, String> {
        let scale = output.pixels_per_point;
        let size = context.content_rect().size() * scale;
        let pixels = [size.x, size.y].map(|side| side.round() as usize);
        let primitives = context.tessellate(output.shapes.clone(), scale);
        let painted = self
            .0
            .paint(pixels, scale, egui::Color32::TRANSPARENT, &primitives);
        image::RgbaImage::from_raw(
            pixels[0] as u32,
            pixels[1] as u32,
            painted.to_straight_rgba(),
        )
        .ok_or_else(|| "the picture has a wrong size".to_owned())
    }
}

/// A shower gel as a table, with a preservative dose over its limit if `over`.
pub fn shower_gel(over: bool) -> Formula {
    let preservative = if over { "2.4" } else { "0.5" };
    let table = format!(
        "# kind: rinse-off\n# market: EU\nphase,material,percent\n\
         A,Aqua,q.s.\n\
         A,Disodium EDTA dihydrate,0.1\n\
         B,Glycerin 99.5 %,3\n\
         B,Xanthan gum,0.8\n\
         C,Sodium laureth sulfate solution 28 %,28\n\
         C,Cocamidopropyl betaine solution 30 %,11\n\
         D,Sodium benzoate,{preservative}\n\
         D,Citric acid solution 50 %,0.6\n\
         D,Oat extract in glycerin,1\n"
    );
    formula_table::read(&table, "gel.csv", "Oat and juniper shower gel", built_in())
        .unwrap()
        .formula
}

/// A small wash whose materials are written out here, so that its pictures change
/// only with the window: no shelf, no market whose law is checked.
pub fn plain_wash() -> Formula {
    const TEXT: &str = r#"(
    format: "phasewright formula",
    version: 1,
    name: "Plain wash",
    variants: [(
        id: 1,
        name: "First",
        product: (kind: RinseOff, places: [Body], markets: []),
        filler: 10,
        phases: [
            (id: 2, letter: "A", kind: Water, purpose: "Water and what dissolves", lines: [
                (id: 10, material: "water", percent: 56.9),
                (id: 11, material: "humectant", percent: 3, why: "keeps skin supple"),
            ], steps: [(id: 12, text: "Stir until clear", minutes: 5)]),
            (id: 3, letter: "B", kind: Surfactant, purpose: "Cleansing", lines: [
                (id: 13, material: "cleanser", percent: 28, held: true),
                (id: 14, material: "mild-partner", percent: 11, min: 8, max: 14),
            ]),
            (id: 4, letter: "C", kind: CoolDown, purpose: "Below 40 °C", temperature_c: 35, lines: [
                (id: 15, material: "preservative", percent: 1.1),
            ]),
        ],
    )],
    materials: [
        (name: "Water", pure: (inci: "Aqua", class: Water)),
        (name: "Humectant", pure: (inci: "Glycerin", class: Humectant),
            use_ranges: [(kind: RinseOff, low: 1, high: 5)]),
        (name: "Cleanser", contains: [
            (inci: "Sodium Laureth Sulfate", share: 28, class: Surfactant(Anionic)),
            (inci: "Aqua", share: 71.5, class: Water),
            (inci: "Sodium Chloride", share: 0.5, class: Electrolyte)]),
        (name: "Mild partner", contains: [
            (inci: "Cocamidopropyl Betaine", share: 30, class: Surfactant(Amphoteric)),
            (inci: "Aqua", share: 64, class: Water),
            (inci: "Sodium Chloride", share: 5, class: Electrolyte)]),
        (name: "Preservative", pure: (inci: "Phenoxyethanol", class: Preservative)),
    ],
)"#;
    formula_file::read(TEXT, "plain.formula.ron").unwrap()
}
