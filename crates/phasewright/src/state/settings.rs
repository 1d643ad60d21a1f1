//! What the window remembers between runs, and the folders it uses.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use eframe::egui::ThemePreference;
use etcetera::BaseStrategy as _;
use formulation::file::store::{self, Expect, StoreError};
use formulation::file::{autosave, disk};
use formulation::material::MaterialId;
use formulation::quantity::Percent;
use serde::{Deserialize, Serialize};

/// Files remembered under "Recent".
const MOST_RECENT: usize = 12;

/// Light, dark, or as the system says.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
pub enum ThemeChoice {
    /// As the system says.
    #[default]
    System,
    /// Warm paper.
    Light,
    /// Slate.
    Dark,
}

impl ThemeChoice {
    /// All choices.
    pub const ALL: [Self; 3] = [Self::System, Self::Light, Self::Dark];

    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::System => "As the system",
            Self::Light => "Light",
            Self::Dark => "Dark",
        }
    }

    /// What egui calls it.
    pub const fn preference(self) -> ThemePreference {
        match self {
            Self::System => ThemePreference::System,
            Self::Light => ThemePreference::Light,
            Self::Dark => ThemePreference::Dark,
        }
    }
}

/// The step on which percentages land that are moved, not typed.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
pub enum PercentStep {
    /// Whole percents.
    Whole,
    /// Tenths of a percent.
    Tenth,
    /// Hundredths of a percent.
    #[default]
    Hundredth,
}

impl PercentStep {
    /// All steps.
    pub const ALL: [Self; 3] = [Self::Whole, Self::Tenth, Self::Hundredth];

    /// The step.
    pub const fn percent(self) -> Percent {
        let parts = match self {
            Self::Whole => 1,
            Self::Tenth => 10,
            Self::Hundredth => 100,
        };
        Percent::from_units(Percent::UNITS / parts)
    }
}

/// Whether things may glide and fade.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
pub enum Motion {
    /// As the system says.
    #[default]
    System,
    /// Nothing moves by itself.
    Still,
    /// Whatever the system says, things may glide.
    Full,
}

impl Motion {
    /// All choices.
    pub const ALL: [Self; 3] = [Self::System, Self::Still, Self::Full];

    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::System => "Movement as the system",
            Self::Still => "Nothing moves by itself",
            Self::Full => "Things may glide",
        }
    }
}

/// What the window remembers. Written as RON and read field by field: what one field holds
/// is of no concern to the others. What is not known here, or cannot be read, is said and
/// kept as it stands for the version of the program that wrote it.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct Settings {
    /// Light or dark.
    pub theme: ThemeChoice,
    /// Size of everything, 1 being the system's own.
    pub zoom: f32,
    /// Files opened lately, the latest first.
    pub recent: Vec<PathBuf>,
    /// The maker's own lists of rules.
    pub own_rules: Vec<PathBuf>,
    /// The hints of the first start are closed.
    pub hints_closed: bool,
    /// The folder of the maker's shelf, if not the usual one.
    pub shelf_folder: Option<PathBuf>,
    /// The step on which percentages land that are moved.
    pub percent_step: PercentStep,
    /// Whether things may glide and fade.
    pub motion: Motion,
    /// How often each material, by its id, was put into a line by hand: what is used often is
    /// found first.
    pub used: BTreeMap<String, u32>,
    /// Fields of the file that cannot be read, by name, with their text.
    #[serde(skip)]
    pub kept: Vec<(String, String)>,
    /// The file cannot be read as a whole, so it is not written over.
    #[serde(skip)]
    pub unreadable: bool,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            theme: ThemeChoice::System,
            zoom: 1.0,
            recent: Vec::new(),
            own_rules: Vec::new(),
            hints_closed: false,
            shelf_folder: None,
            percent_step: PercentStep::default(),
            motion: Motion::default(),
            used: BTreeMap::new(),
            kept: Vec::new(),
            unreadable: false,
        }
    }
}

impl Settings {
    /// Reads settings and says what of them cannot be used.
    pub fn read(text: &str) -> (Self, Vec<String>) {
        let mut settings = Self::default();
        let mut problems = Vec::new();
        let Some(fields) = fields_of(text) else {
            settings.unreadable = true;
            problems.push(
                "nothing is used and nothing is changed: they are not of the form “(name: value, …)”; mend the file, or remove it to begin anew"
                    .to_owned(),
            );
            return (settings, problems);
        };
        let mut seen = BTreeSet::new();
        for (name, value) in fields {
            if !seen.insert(name) {
                problems.push(format!("“{name}” stands twice; the first counts"));
                continue;
            }
            let read = match name {
                "theme" => put(&mut settings.theme, value),
                "zoom" => put(&mut settings.zoom, value).and_then(|()| {
                    let sound = settings.zoom.is_finite() && (0.2..=5.0).contains(&settings.zoom);
                    if sound {
                        Ok(())
                    } else {
                        settings.zoom = 1.0;
                        Err("it must be between 0.2 and 5".to_owned())
                    }
                }),
                "recent" => put(&mut settings.recent, value),
                "own_rules" => put(&mut settings.own_rules, value),
                "hints_closed" => put(&mut settings.hints_closed, value),
                "shelf_folder" => put(&mut settings.shelf_folder, value),
                "percent_step" => put(&mut settings.percent_step, value),
                "motion" => put(&mut settings.motion, value),
                "used" => put(&mut settings.used, value),
                _ => Err("this version does not know it".to_owned()),
            };
            if let Err(why) = read {
                problems.push(format!("“{name}” is kept but not used: {why}"));
                settings.kept.push((name.to_owned(), value.to_owned()));
            }
        }
        (settings, problems)
    }

    /// The settings as text. A field that could not be read is written as it stood, unless it
    /// was given another value since.
    pub fn write(&self) -> Result<String, ron::Error> {
        let usual = Self::default();
        let known = ron::ser::to_string_pretty(self, ron::ser::PrettyConfig::default())?;
        if self.kept.is_empty() {
            return Ok(known);
        }
        let mut fields: Vec<(&str, &str)> = fields_of(&known).unwrap_or_default();
        for (name, value) in &self.kept {
            match fields.iter_mut().find(|(known, _)| known == name) {
                Some(field) => {
                    let untouched = match name.as_str() {
                        "theme" => self.theme == usual.theme,
                        "zoom" => self.zoom == usual.zoom,
                        "recent" => self.recent == usual.recent,
                        "own_rules" => self.own_rules == usual.own_rules,
                        "hints_closed" => self.hints_closed == usual.hints_closed,
                        "percent_step" => self.percent_step == usual.percent_step,
                        "motion" => self.motion == usual.motion,
                        "used" => self.used == usual.used,
                        _ => self.shelf_folder == usual.shelf_folder,
                    };
                    if untouched {
                        field.1 = value;
                    }
                }
                None => fields.push((name, value)),
            }
        }
        let lines: Vec<String> = fields
            .iter()
            .map(|(name, value)| {
                // A comment at its end would swallow the comma.
                let end = if value.contains("//") { "\n    ," } else { "," };
                format!("    {name}: {value}{end}\n")
            })
            .collect();
        Ok(format!("(\n{})", lines.concat()))
    }

    /// Counts a material that was put into a line by hand.
    pub fn count_use(&mut self, material: &MaterialId) {
        let count = self.used.entry(material.as_str().to_owned()).or_default();
        *count = count.saturating_add(1);
    }

    /// Puts a file first among the recent ones.
    pub fn remember(&mut self, path: &Path) {
        self.recent.retain(|p| p != path);
        self.recent.insert(0, path.to_path_buf());
        self.recent.truncate(MOST_RECENT);
    }
}

fn put<T: serde::de::DeserializeOwned>(field: &mut T, text: &str) -> Result<(), String> {
    *field = ron::from_str(text).map_err(|e| e.to_string())?;
    Ok(())
}

/// Names and texts of the fields of a RON struct, in order; `None` if it is none. Looks only
/// at brackets, quotes, comments and commas, so that a value nobody can read stays whole.
fn fields_of(text: &str) -> Option<Vec<(&str, &str)>> {
    let inner = text
        .trim_start_matches('\u{feff}')
        .trim()
        .strip_prefix('(')?
        .strip_suffix(')')?;
    let mut fields = Vec::new();
    let (mut depth, mut start) = (0_usize, 0);
    let mut signs = inner.char_indices().peekable();
    let mut cuts = Vec::new();
    while let Some((at, sign)) = signs.next() {
        match sign {
            '"' => loop {
                // A text that is never closed has no end to be found.
                match signs.next()?.1 {
                    '\\' => {
                        signs.next();
                    }
                    '"' => break,
                    _ => {}
                }
            },
            '/' if signs.peek().is_some_and(|(_, next)| *next == '/') => {
                for (_, inside) in signs.by_ref() {
                    if inside == '\n' {
                        break;
                    }
                }
            }
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' => depth = depth.checked_sub(1)?,
            ',' if depth == 0 => {
                cuts.push((start, at));
                start = at + 1;
            }
            _ => {}
        }
    }
    // Nor has a bracket that is never closed.
    if depth > 0 {
        return None;
    }
    cuts.push((start, inner.len()));
    for (from, to) in cuts {
        let mut field = inner.get(from..to)?.trim();
        // Comments before a field belong to nobody.
        while let Some(comment) = field.strip_prefix("//") {
            field = comment
                .split_once('\n')
                .map_or("", |(_, rest)| rest)
                .trim_start();
        }
        if field.is_empty() {
            continue;
        }
        let (name, value) = field.split_once(':')?;
        let name = name.trim();
        let is_name = |c: char| c.is_alphanumeric() || c == '_';
        if name.is_empty() || !name.chars().all(is_name) {
            return None;
        }
        fields.push((name, value.trim()));
    }
    Some(fields)
}

/// Folders the program writes to unasked. Without one, that memory is off.
#[derive(Clone, Debug, Default)]
pub struct Folders {
    /// Settings and the maker's shelf.
    pub config: Option<PathBuf>,
    /// Unsaved work, kept against a crash.
    pub recovery: Option<PathBuf>,
}

impl Folders {
    /// The usual folders of this system and person.
    pub fn usual() -> Self {
        Self {
            config: usual_config(),
            recovery: autosave::usual_folder(),
        }
    }

    /// Where keys to sign and to check signatures with are kept.
    pub fn keys(&self) -> Option<PathBuf> {
        Some(self.config.as_ref()?.join("keys"))
    }

    /// What was settled about the materials of files brought in.
    pub fn answers(&self) -> Option<PathBuf> {
        Some(self.config.as_ref()?.join("answers.txt"))
    }

    fn settings_file(&self) -> Option<PathBuf> {
        Some(self.config.as_ref()?.join("settings.ron"))
    }

    /// Reads the settings; what cannot be read is said, and the usual value taken.
    pub fn read_settings(&self) -> (Settings, Vec<String>) {
        let Some(path) = self.settings_file() else {
            return (Settings::default(), Vec::new());
        };
        match store::read_text(&path) {
            Ok((text, _)) => {
                let (settings, problems) = Settings::read(&text);
                let told = problems
                    .into_iter()
                    .map(|p| format!("In the settings, {p} ({})", path.display()))
                    .collect();
                (settings, told)
            }
            Err(StoreError::Missing { .. }) => (Settings::default(), Vec::new()),
            Err(error) => {
                let settings = Settings {
                    unreadable: true,
                    ..Settings::default()
                };
                let told = format!("The settings are not used and not changed: {error}");
                (settings, vec![told])
            }
        }
    }

    /// Writes the settings; without a folder nothing is written.
    pub fn write_settings(&self, settings: &Settings) -> Result<(), String> {
        let (Some(folder), Some(path)) = (&self.config, self.settings_file()) else {
            return Ok(());
        };
        let fail = |cause: &dyn std::fmt::Display| {
            format!(
                "The settings could not be saved: {cause} ({})",
                path.display()
            )
        };
        if settings.unreadable {
            return Err(fail(
                &"the file could not be read and is left as it is; mend or remove it",
            ));
        }
        let text = settings.write().map_err(|e| fail(&e))?;
        disk::make_folders(folder, disk::Access::Usual).map_err(|e| fail(&e))?;
        store::save_text(&path, &text, Expect::Anything).map_err(|e| fail(&e))?;
        Ok(())
    }
}

/// The folder for settings by the habits of the system.
fn usual_config() -> Option<PathBuf> {
    let system = etcetera::base_strategy::choose_native_strategy().ok()?;
    let base = if cfg!(target_os = "macos") {
        // Settings live beside the data there; `Preferences` belongs to the system.
        system.data_dir()
    } else {
        system.config_dir()
    };
    Some(base.join("phasewright"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn of_a_name_that_stands_twice_the_first_counts_and_that_is_said() {
        let (settings, problems) = Settings::read("(zoom: 1.5, zoom: 2.0, new: 1, new: 2)");
        assert_eq!(settings.zoom, 1.5);
        assert_eq!(settings.kept, [("new".to_owned(), "1".to_owned())]);
        let twice = problems.iter().filter(|p| p.contains("twice")).count();
        assert_eq!(twice, 2, "{problems:?}");
        let (again, _) = Settings::read(&settings.write().unwrap());
        assert_eq!(again, settings);
    }

    /// One unknown word once cost the own rules and the shelf folder.
    #[test]
    fn one_unknown_word_costs_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let folders = Folders {
            config: Some(folder.path().into()),
            recovery: None,
        };
        let text = "(theme: Purple, // mine\n zoom: 1.5, shelf_folder: Some(\"s, (x\"),\n own_rules: [\"r.ron\"], later: (a: [1, 2]), )";
        std::fs::write(folder.path().join("settings.ron"), text).unwrap();
        let (mut settings, problems) = folders.read_settings();
        assert_eq!(problems.len(), 2, "{problems:?}");
        assert_eq!(settings.own_rules, [PathBuf::from("r.ron")]);
        assert_eq!(settings.shelf_folder, Some("s, (x".into()));
        settings.hints_closed = true;
        folders.write_settings(&settings).unwrap();
        let (again, problems) = folders.read_settings();
        assert_eq!(problems.len(), 2);
        assert_eq!(again, settings);
        // Chosen anew, it is no longer the word that was not understood.
        settings.theme = ThemeChoice::Dark;
        folders.write_settings(&settings).unwrap();
        let (again, problems) = folders.read_settings();
        assert_eq!(again.theme, ThemeChoice::Dark);
        assert_eq!(problems.len(), 1);
    }

    /// What cannot be read at all is never written over.
    #[test]
    fn unreadable_settings_stay() {
        let folder = tempfile::tempdir().unwrap();
        let folders = Folders {
            config: Some(folder.path().into()),
            recovery: None,
        };
        let path = folder.path().join("settings.ron");
        for bytes in [
            b"own rules = mine".as_slice(),
            b"(theme: Dark, \xff",
            b"(theme: LighSome(t)",
            b"(theme: \"Dark, zoom: 1)",
            b"(theme//: Dark(, zoom: 1)",
        ] {
            std::fs::write(&path, bytes).unwrap();
            let (settings, problems) = folders.read_settings();
            assert_eq!(problems.len(), 1, "{problems:?}");
            assert!(folders.write_settings(&settings).is_err());
            assert_eq!(std::fs::read(&path).unwrap(), bytes);
        }
    }

    /// An error at any call of a save leaves the settings as they were, or as they should be.
    #[test]
    fn settings_are_the_old_or_the_new() {
        use std::cell::Cell;
        use std::rc::Rc;

        struct FailAt(Cell<usize>);
        impl disk::Watch for FailAt {
            fn before(&self, _: &disk::Op<'_>) -> disk::CallOutcome {
                let left = self.0.get();
                self.0.set(left.wrapping_sub(1));
                if left == 0 {
                    return disk::CallOutcome::Short(5, std::io::ErrorKind::StorageFull.into());
                }
                disk::CallOutcome::Go
            }
            fn done(&self, _: &disk::Op<'_>) {}
        }
        let mut saved = false;
        for call in 0..200 {
            let folder = tempfile::tempdir().unwrap();
            let folders = Folders {
                config: Some(folder.path().into()),
                recovery: None,
            };
            let mut settings = Settings::default();
            folders.write_settings(&settings).unwrap();
            settings.zoom = 1.5;
            let watch = Rc::new(FailAt(Cell::new(call)));
            let told = disk::watched(watch.clone(), || folders.write_settings(&settings));
            let (now, problems) = folders.read_settings();
            assert_eq!(problems, Vec::<String>::new());
            assert!(now.zoom == 1.5 || (told.is_err() && now.zoom == 1.0));
            if watch.0.get() < usize::MAX / 2 {
                saved = true;
                break;
            }
        }
        assert!(saved, "all calls were tried");
    }

    #[test]
    fn the_latest_file_comes_first_and_once() {
        let mut settings = Settings::default();
        for i in 0..20 {
            settings.remember(Path::new(&format!("{i}.formula.ron")));
        }
        settings.remember(Path::new("15.formula.ron"));
        assert_eq!(settings.recent.len(), MOST_RECENT);
        assert_eq!(settings.recent[0], Path::new("15.formula.ron"));
        assert_eq!(settings.recent[1], Path::new("19.formula.ron"));
    }

    #[test]
    fn an_older_settings_file_is_understood() {
        let (settings, problems) = Settings::read("(theme: Dark)");
        assert_eq!(problems, Vec::<String>::new());
        assert_eq!(settings.theme, ThemeChoice::Dark);
        assert_eq!(settings.zoom, 1.0);
    }
}
