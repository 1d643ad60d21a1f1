//! What a package brings besides the program: manual pages, completions for shells, the sign,
//! the entry of the desktop and the kinds of file.

use clap::CommandFactory as _;
use clap_complete::Shell;

use crate::cli::Cli;
use crate::sign;

/// A file of a package.
#[derive(Debug)]
pub struct Shipped {
    /// Where it stands under the prefix, for example `share/man/man1/phasewright.1`.
    pub path: String,
    /// What it holds.
    pub content: Vec<u8>,
}

/// Sides of the sign as pixels.
const SIDES: [usize; 8] = [16, 24, 32, 48, 64, 128, 256, 512];

/// Every file that a package brings.
pub fn files() -> Vec<Shipped> {
    let mut files = Vec::new();
    let mut add = |path: String, content: Vec<u8>| files.push(Shipped { path, content });
    manual(&Cli::command(), "", &mut add);
    for (shell, path) in [
        (Shell::Bash, "share/bash-completion/completions/phasewright"),
        (Shell::Zsh, "share/zsh/vendor-completions/_phasewright"),
        (
            Shell::Fish,
            "share/fish/vendor_completions.d/phasewright.fish",
        ),
    ] {
        let mut text = Vec::new();
        clap_complete::generate(shell, &mut Cli::command(), "phasewright", &mut text);
        add(path.to_owned(), text);
    }
    let icons = "share/icons/hicolor";
    for side in SIDES {
        if let Ok(png) = picture::encode(side, side, &sign::rgba(side)) {
            add(format!("{icons}/{side}x{side}/apps/phasewright.png"), png);
        }
    }
    add(
        format!("{icons}/scalable/apps/phasewright.svg"),
        sign::svg().into_bytes(),
    );
    let text = |text: &str| text.as_bytes().to_vec();
    add(
        "share/applications/phasewright.desktop".to_owned(),
        text(include_str!("../../../assets/desktop/phasewright.desktop")),
    );
    add(
        "share/mime/packages/phasewright.xml".to_owned(),
        text(include_str!("../../../assets/desktop/phasewright.xml")),
    );
    add(
        "share/metainfo/phasewright.metainfo.xml".to_owned(),
        text(include_str!(
            "../../../assets/desktop/phasewright.metainfo.xml"
        )),
    );
    files
}

/// The page of a command and those of its own commands.
fn manual(command: &clap::Command, before: &str, add: &mut impl FnMut(String, Vec<u8>)) {
    let name = format!("{before}{}", command.get_name());
    let mut page = Vec::new();
    let shown = command
        .clone()
        .display_name(name.clone())
        .bin_name(name.replace('-', " "));
    if clap_mangen::Man::new(shown).render(&mut page).is_ok() {
        add(format!("share/man/man1/{name}.1"), page);
    }
    let own = command
        .get_subcommands()
        .filter(|c| !c.is_hide_set() && c.get_name() != "help");
    for below in own {
        manual(below, &format!("{name}-"), add);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text_of<'f>(files: &'f [Shipped], path: &str) -> std::borrow::Cow<'f, str> {
        let file = files.iter().find(|f| f.path == path);
        String::from_utf8_lossy(&file.unwrap_or_else(|| panic!("{path} is missing")).content)
    }

    #[test]
    fn every_command_has_a_page_and_is_completed() {
        let files = files();
        let bash = text_of(&files, "share/bash-completion/completions/phasewright");
        for command in Cli::command().get_subcommands() {
            let name = command.get_name();
            let page =
                text_of(&files, &format!("share/man/man1/phasewright-{name}.1")).into_owned();
            assert!(page.contains(".SH SYNOPSIS"), "{name}");
            assert!(bash.contains(name), "{name}");
        }
    }

    #[test]
    fn the_kinds_of_file_agree_with_the_entry_of_the_desktop() {
        let files = files();
        let entry = text_of(&files, "share/applications/phasewright.desktop");
        let kinds = text_of(&files, "share/mime/packages/phasewright.xml");
        for ending in ["*.formula.ron", "*.finished.ron"] {
            assert!(kinds.contains(ending));
        }
        let named = entry
            .lines()
            .find_map(|l| l.strip_prefix("MimeType="))
            .unwrap();
        for kind in named.split(';').filter(|k| !k.is_empty()) {
            assert!(kinds.contains(&format!("type=\"{kind}\"")), "{kind}");
        }
    }

    #[test]
    fn the_sign_is_there_in_every_size() {
        let files = files();
        for side in SIDES {
            let path = format!("share/icons/hicolor/{side}x{side}/apps/phasewright.png");
            let png = files.iter().find(|f| f.path == path).unwrap();
            // The head of a PNG tells width and height (W3C, Portable Network Graphics, 11.2.1).
            let of = |at: usize| u32::from_be_bytes(png.content[at..at + 4].try_into().unwrap());
            assert_eq!((of(16), of(20)), (side as u32, side as u32));
        }
    }
}
