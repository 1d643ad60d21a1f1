//! Whether the desktop asks programs to keep still: what the settings files of the two
//! common families of desktops say. Only read, at the start.

use std::path::Path;

use etcetera::BaseStrategy as _;
use formulation::amount::{Measure, typed};
use formulation::file::store;

/// Settings files, below the folder for settings, and what they call it.
const PLACES: [(&str, &str); 3] = [
    ("gtk-4.0/settings.ini", "gtk-enable-animations"),
    ("gtk-3.0/settings.ini", "gtk-enable-animations"),
    ("kdeglobals", "AnimationDurationFactor"),
];

/// Whether this desktop asks programs to keep still.
pub fn system_is_still() -> bool {
    etcetera::base_strategy::choose_native_strategy()
        .is_ok_and(|system| is_still(&system.config_dir()))
}

/// Whether the first settings file that says anything about it, below a folder, asks to
/// keep still.
fn is_still(config: &Path) -> bool {
    PLACES
        .iter()
        .find_map(|(file, key)| {
            let (text, _) = store::read_text(&config.join(file)).ok()?;
            said(&text, key)
        })
        .unwrap_or(false)
}

/// What a settings file says: none, false or zero mean to keep still.
fn said(text: &str, key: &str) -> Option<bool> {
    text.lines()
        .filter_map(|line| line.split_once('='))
        .find(|(name, _)| name.trim() == key)
        .map(|(_, value)| {
            let value = value.trim();
            value.eq_ignore_ascii_case("false")
                || typed::value(value, &Measure::NUMBER).is_ok_and(|factor| factor == 0.0)
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_desktop_is_asked() {
        let folder = tempfile::tempdir().unwrap();
        assert!(!is_still(folder.path()));
        let write = |name: &str, text: &str| {
            let path = folder.path().join(name);
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(path, text).unwrap();
        };
        write("kdeglobals", "[KDE]\nAnimationDurationFactor=0\n");
        assert!(is_still(folder.path()));
        write("kdeglobals", "[KDE]\nAnimationDurationFactor=0.5\n");
        assert!(!is_still(folder.path()));
        write(
            "gtk-3.0/settings.ini",
            "[Settings]\ngtk-enable-animations = false\n",
        );
        assert!(is_still(folder.path()));
        write(
            "gtk-4.0/settings.ini",
            "[Settings]\ngtk-enable-animations=1\n",
        );
        assert!(!is_still(folder.path()));
    }
}
