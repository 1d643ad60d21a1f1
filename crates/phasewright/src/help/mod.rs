//! The pages of `docs/` inside the window: found by sheet, by page or by words.

mod draw;
mod window;

use std::sync::LazyLock;

use packed::packed;
pub use window::HelpWindow;

use crate::sheets::SheetName;

/// A page of the documentation.
#[derive(Debug, PartialEq, Eq)]
pub struct Page {
    /// Name of its file in `docs/`, without ending.
    pub id: &'static str,
    /// Its text in Markdown.
    pub text: &'static str,
}

/// A place in the pages.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct HelpPlace {
    /// The page.
    pub page: &'static str,
    /// A heading of it; the start of the page without one.
    pub heading: Option<String>,
}

macro_rules! pages {
    ($($id:literal),* $(,)?) => {
        [$(Page { id: $id, text: packed!(concat!("docs/", $id, ".md")).text().leak() }),*]
    };
}

/// All pages, in the order in which a maker meets them; unpacked once and kept.
pub static PAGES: LazyLock<[Page; 15]> = LazyLock::new(|| {
    pages![
        "window",
        "shelf",
        "aim",
        "making",
        "trials",
        "label",
        "law",
        "compatibility",
        "estimates",
        "methods",
        "materials",
        "reliability",
        "commands",
        "file-formats",
        "json",
    ]
});

impl Page {
    /// Its first heading.
    pub fn title(&self) -> &'static str {
        let first = self.text.lines().find_map(|l| l.strip_prefix("# "));
        first.unwrap_or(self.id)
    }
    /// The page of a file of `docs/`.
    pub fn of(id: &str) -> Option<&'static Self> {
        PAGES.iter().find(|p| p.id == id)
    }
    /// Its parts: each heading of the second level with the text under it; the text before
    /// the first has no heading.
    pub fn parts(&self) -> Vec<(Option<&'static str>, &'static str)> {
        let mut parts = Vec::new();
        let (mut heading, mut start, mut at) = (None, 0, 0);
        for line in self.text.split_inclusive('\n') {
            if let Some(words) = line.strip_prefix("## ") {
                parts.push((heading, &self.text[start..at]));
                heading = Some(words.trim());
                start = at + line.len();
            }
            at += line.len();
        }
        parts.push((heading, &self.text[start..]));
        parts
    }
}

impl HelpPlace {
    /// The page that tells of a sheet.
    pub fn of_sheet(sheet: SheetName) -> Self {
        let (page, heading) = match sheet {
            SheetName::Formula => ("window", None),
            SheetName::SideBySide => ("window", Some("Side by side")),
            SheetName::Aim => ("aim", None),
            SheetName::Make => ("making", None),
            SheetName::Label => ("label", None),
            SheetName::Shelf => ("shelf", None),
            SheetName::Trials => ("trials", Some("The sheet Trials")),
        };
        Self::at(page, heading)
    }
    /// The page that tells of what has the cursor: a region of a sheet with a page of its own,
    /// else what is open over the sheet, else the sheet.
    pub fn of_focus(
        sheet: SheetName,
        region: Option<&str>,
        open: Option<(&'static str, Option<&'static str>)>,
    ) -> Self {
        let (page, heading) = match (region, open) {
            (Some("Findings"), _) => ("law", Some("What a finding asks")),
            (
                Some(
                    "Menus and sheets" | "Warnings" | "Reminders" | "Changed elsewhere" | "Status",
                ),
                _,
            )
            | (Some("Chart"), None) => ("window", None),
            (_, Some(open)) => open,
            (Some("Read-outs"), None) => ("estimates", None),
            _ => return Self::of_sheet(sheet),
        };
        Self::at(page, heading)
    }
    /// A heading of a page, or its start.
    pub fn at(page: &'static str, heading: Option<&str>) -> Self {
        Self {
            page,
            heading: heading.map(str::to_owned),
        }
    }
    /// Its words: the page, and the part of it.
    pub fn words(&self) -> String {
        let title = Page::of(self.page).map_or(self.page, Page::title);
        match &self.heading {
            Some(heading) => format!("{title}: {heading}"),
            None => title.to_owned(),
        }
    }
}

/// The parts in which all words occur, with the line of the first of them; those that have
/// them in their heading first.
pub fn search(words: &str) -> Vec<(HelpPlace, &'static str)> {
    let wanted: Vec<String> = words.split_whitespace().map(str::to_lowercase).collect();
    if wanted.is_empty() {
        return Vec::new();
    }
    let mut found = Vec::new();
    for page in PAGES.iter() {
        for (heading, text) in page.parts() {
            let head = heading.unwrap_or_else(|| page.title()).to_lowercase();
            let lower = text.to_lowercase();
            if !wanted.iter().all(|w| lower.contains(w) || head.contains(w)) {
                continue;
            }
            let in_head = wanted.iter().all(|w| head.contains(w));
            let line = text
                .lines()
                .find(|l| {
                    let l = l.to_lowercase();
                    wanted.iter().any(|w| l.contains(w))
                })
                .or_else(|| text.lines().find(|l| !l.is_empty() && !l.starts_with('#')))
                .unwrap_or_default();
            let place = HelpPlace {
                page: page.id,
                heading: heading.map(str::to_owned),
            };
            found.push((!in_head, place, line));
        }
    }
    found.sort_by_key(|(below, ..)| *below);
    found
        .into_iter()
        .map(|(_, place, line)| (place, line))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_page_of_the_documentation_is_inside() {
        let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs");
        let mut there: Vec<String> = std::fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .filter(|path| path.extension().is_some_and(|e| e == "md"))
            .map(|path| path.file_stem().unwrap().to_string_lossy().into_owned())
            .collect();
        there.sort();
        let mut inside: Vec<&str> = PAGES.iter().map(|p| p.id).collect();
        inside.sort_unstable();
        assert_eq!(inside, there);
        for page in PAGES.iter() {
            assert!(page.text.starts_with("# "), "{}", page.id);
        }
    }

    #[test]
    fn the_place_of_every_sheet_is_there() {
        for sheet in SheetName::ALL {
            let place = HelpPlace::of_sheet(sheet);
            let page = Page::of(place.page).unwrap();
            let headings: Vec<_> = page.parts().into_iter().map(|(h, _)| h).collect();
            assert!(headings.contains(&place.heading.as_deref()), "{sheet:?}");
        }
    }

    #[test]
    fn words_are_found_in_headings_first() {
        let found = search("water activity");
        let (place, _) = &found[0];
        assert_eq!(
            (place.page, place.heading.as_deref()),
            ("estimates", Some("Water activity"))
        );
        assert!(found.len() > 1);
        assert!(search("zzzz").is_empty() && search("  ").is_empty());
    }
}
