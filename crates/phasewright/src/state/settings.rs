//! What the window remembers between runs, and the folders it uses.

use std::path::{Path, PathBuf};

use eframe::egui::ThemePreference;
use formulation::file::autosave;
use formulation::file::store::{self, Expect, StoreError};
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

/// What the window remembers. Written as RON; unknown fields of a newer version
/// are left out, missing ones take their default.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(default)]
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
        }
    }
}

impl Settings {
    /// Puts a file first among the recent ones.
    pub fn remember(&mut self, path: &Path) {
        self.recent.retain(|p| p != path);
        self.recent.insert(0, path.to_path_buf());
        self.recent.truncate(MOST_RECENT);
    }
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

    fn settings_file(&self) -> Option<PathBuf> {
        Some(self.config.as_ref()?.join("settings.ron"))
    }

    /// Reads the settings; what cannot be read is said and replaced by the defaults.
    pub fn read_settings(&self) -> (Settings, Option<String>) {
        let Some(path) = self.settings_file() else {
            return (Settings::default(), None);
        };
        match store::read_text(&path) {
            Ok((text, _)) => match ron::from_str(&text) {
                Ok(settings) => (settings, None),
                Err(error) => (
                    Settings::default(),
                    Some(format!(
                        "The settings could not be read and the usual ones are used: {error} ({})",
                        path.display()
                    )),
                ),
            },
            Err(StoreError::Missing { .. }) => (Settings::default(), None),
            Err(error) => (Settings::default(), Some(error.to_string())),
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
        let text = ron::ser::to_string_pretty(settings, ron::ser::PrettyConfig::default())
            .map_err(|e| fail(&e))?;
        std::fs::create_dir_all(folder).map_err(|e| fail(&e))?;
        store::save_text(&path, &text, Expect::Anything).map_err(|e| fail(&e))?;
        Ok(())
    }
}

/// The folder for settings by the habits of the system.
fn usual_config() -> Option<PathBuf> {
    let set = |name: &str| {
        std::env::var_os(name)
            .filter(|v| !v.is_empty())
            .map(PathBuf::from)
    };
    let base = if cfg!(windows) {
        set("APPDATA")
    } else if cfg!(target_os = "macos") {
        set("HOME").map(|home| home.join("Library/Application Support"))
    } else {
        set("XDG_CONFIG_HOME").or_else(|| set("HOME").map(|home| home.join(".config")))
    };
    base.map(|base| base.join("phasewright"))
}

#[cfg(test)]
mod tests {
    use super::*;

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
        let settings: Settings = ron::from_str("(theme: Dark)").unwrap();
        assert_eq!(settings.theme, ThemeChoice::Dark);
        assert_eq!(settings.zoom, 1.0);
    }
}
