//! Pictures of the window. Without arguments it renews those of the documents in
//! `assets/screenshots`; with a folder it draws every sheet of an example there, in every size
//! and theme, to be looked at. Run it from the root of the project.

use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use acceptance::window::{Look, bench, state};
use egui::{Theme, Vec2};
use egui_kittest::Harness;
use formulation::file::disk;
use formulation::file::store::{self, Expect};
use formulation::shelf::built_in;
use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use phasewright::app::Bench;
use phasewright::command::Command;
use phasewright::examples;
use phasewright::sheets::SheetName;

/// Where the documents look for their pictures.
const DOCUMENTS: &str = "assets/screenshots";

/// Sizes in points, and pixels a point.
const SIZES: [(f32, f32, f32); 5] = [
    (1000.0, 640.0, 1.0),
    (1024.0, 600.0, 1.0),
    (1280.0, 800.0, 1.0),
    (1920.0, 1080.0, 1.0),
    (1280.0, 800.0, 2.0),
];

fn main() -> ExitCode {
    let folder = std::env::args_os().nth(1).map(PathBuf::from);
    let drawn = match &folder {
        Some(folder) => every_look(folder),
        None => documents(Path::new(DOCUMENTS)),
    };
    match drawn {
        Ok(()) => ExitCode::SUCCESS,
        Err(problem) => {
            eprintln!("{problem}");
            ExitCode::FAILURE
        }
    }
}

/// The window on the example, the hints closed.
fn window(look: Look, sheet: SheetName) -> Result<Harness<'static, Bench>, String> {
    let formula = examples::FIRST.read().map_err(|e| e.to_string())?;
    let formula = Arc::unwrap_or_clone(formula);
    let mut state = state(built_in().clone(), formula);
    state.settings.hints_closed = true;
    if let Some(trials) = examples::FIRST.read_trials() {
        state.set_example_trials(trials?);
    }
    let mut harness = bench(look, state);
    harness.run();
    harness.state_mut().push(Command::Show(sheet));
    harness.run();
    Ok(harness)
}

fn save(harness: &mut Harness<'_, Bench>, path: &Path) -> Result<(), String> {
    let image = harness.render()?;
    let mut bytes = Vec::new();
    // Small files: these are kept in the repository.
    let encoder =
        PngEncoder::new_with_quality(&mut bytes, CompressionType::Best, FilterType::Adaptive);
    image
        .write_with_encoder(encoder)
        .map_err(|e| e.to_string())?;
    // The picture before is in the repository; a copy beside it is not wanted.
    if disk::is_there(path) {
        disk::remove(path).map_err(|e| format!("{e} ({})", path.display()))?;
    }
    store::save(path, &bytes, Expect::Nothing)
        .map(|_| ())
        .map_err(|e| e.to_string())
}

fn documents(folder: &Path) -> Result<(), String> {
    let dark = Look::USUAL.dark();
    for (look, sheet, name) in [
        (Look::USUAL, SheetName::Formula, "formula-light.png"),
        (dark, SheetName::Formula, "formula-dark.png"),
        (Look::USUAL, SheetName::SideBySide, "side-by-side-light.png"),
    ] {
        save(&mut window(look, sheet)?, &folder.join(name))?;
    }
    Ok(())
}

fn every_look(folder: &Path) -> Result<(), String> {
    disk::make_folders(folder, disk::Access::Usual)
        .map_err(|e| format!("{e} ({})", folder.display()))?;
    for (width, height, scale) in SIZES {
        for theme in [Theme::Light, Theme::Dark] {
            let look = Look {
                size: Vec2::new(width, height),
                theme,
                scale,
            };
            for sheet in SheetName::ALL {
                let mut harness = window(look, sheet)?;
                let name = format!(
                    "{}-{width}x{height}@{scale}-{}.png",
                    sheet.label().to_lowercase().replace(' ', "-"),
                    if theme == Theme::Dark {
                        "dark"
                    } else {
                        "light"
                    }
                );
                save(&mut harness, &folder.join(name))?;
            }
        }
    }
    Ok(())
}
