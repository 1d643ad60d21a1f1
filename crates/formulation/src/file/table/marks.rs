//! What an XLSX workbook hides: sheets, rows and columns that are hidden or filtered
//! out, and cells that are struck through (ECMA-376, part 1, sections 18.2 and 18.3).

use std::collections::{BTreeMap, HashSet};

use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};

use super::unpack::Archive;

/// What one sheet hides; rows and columns counted from 0.
#[derive(Clone, PartialEq, Debug, Default)]
pub(super) struct Marks {
    /// The sheet is hidden.
    pub(super) hidden: bool,
    /// The sheet was shown last.
    pub(super) active: bool,
    pub(super) rows: HashSet<usize>,
    pub(super) columns: HashSet<usize>,
    pub(super) struck: HashSet<(usize, usize)>,
}

fn attribute(element: &BytesStart<'_>, name: &str) -> Option<String> {
    let attribute = element.try_get_attribute(name).ok()??;
    let value = attribute
        .normalized_value(quick_xml::XmlVersion::Implicit1_0)
        .ok()?;
    Some(value.into_owned())
}

fn number(element: &BytesStart<'_>, name: &str) -> Option<usize> {
    attribute(element, name)?.parse().ok()
}

fn is_true(element: &BytesStart<'_>, name: &str) -> bool {
    attribute(element, name).is_some_and(|v| v == "1" || v == "true")
}

/// Calls for every opening element of a part; a part that cannot be read has none,
/// because the reader of the values reports what is damaged.
fn each(archive: &mut Archive<'_>, part: &str, mut found: impl FnMut(&str, &BytesStart<'_>, bool)) {
    if !archive.holds(part) {
        return;
    }
    let Ok(text) = archive.text(part) else { return };
    let mut reader = Reader::from_str(&text);
    while let Ok(event) = reader.read_event() {
        match event {
            Event::Start(e) | Event::Empty(e) => found(local(e.name().as_ref()), &e, true),
            Event::End(e) => {
                let name = e.name();
                let closed = BytesStart::new(name.as_ref());
                found(local(name.as_ref()), &closed, false);
            }
            Event::Eof => return,
            _ => {}
        }
    }
}

fn local(name: &str) -> &str {
    name.rsplit_once(':').map_or(name, |(_, local)| local)
}

/// The marks of every sheet by name.
pub(super) fn read(archive: &mut Archive<'_>) -> BTreeMap<String, Marks> {
    let mut sheets: Vec<(String, String, bool)> = Vec::new();
    let mut active = 0;
    each(archive, "xl/workbook.xml", |name, element, opened| {
        if !opened {
            return;
        }
        if name == "workbookView" {
            active = number(element, "activeTab").unwrap_or(0);
        }
        if name == "sheet"
            && let (Some(name), Some(id)) = (attribute(element, "name"), attribute(element, "r:id"))
        {
            let hidden = attribute(element, "state").is_some_and(|s| s != "visible");
            sheets.push((name, id, hidden));
        }
    });
    let mut targets: BTreeMap<String, String> = BTreeMap::new();
    each(
        archive,
        "xl/_rels/workbook.xml.rels",
        |name, element, opened| {
            if opened
                && name == "Relationship"
                && let (Some(id), Some(target)) =
                    (attribute(element, "Id"), attribute(element, "Target"))
            {
                let target = target
                    .strip_prefix('/')
                    .map_or_else(|| format!("xl/{target}"), str::to_owned);
                targets.insert(id, target);
            }
        },
    );
    let struck_styles = struck_styles(archive);
    sheets
        .into_iter()
        .enumerate()
        .map(|(place, (name, id, hidden))| {
            let mut marks = Marks {
                hidden,
                active: place == active,
                ..Marks::default()
            };
            if let Some(part) = targets.get(&id) {
                read_sheet(archive, part, &struck_styles, &mut marks);
            }
            (name, marks)
        })
        .collect()
}

/// The cell formats whose font is struck through.
fn struck_styles(archive: &mut Archive<'_>) -> HashSet<usize> {
    let (mut fonts, mut struck_fonts) = (0_usize, HashSet::new());
    let (mut in_fonts, mut in_formats) = (false, false);
    let (mut formats, mut struck) = (0_usize, HashSet::new());
    each(
        archive,
        "xl/styles.xml",
        |name, element, opened| match name {
            "fonts" => in_fonts = opened,
            "cellXfs" => in_formats = opened,
            "font" if in_fonts && opened => fonts += 1,
            "strike" if in_fonts && opened => {
                let off = attribute(element, "val").is_some_and(|v| v == "0" || v == "false");
                if !off {
                    struck_fonts.insert(fonts.saturating_sub(1));
                }
            }
            "xf" if in_formats && opened => {
                if number(element, "fontId").is_some_and(|font| struck_fonts.contains(&font)) {
                    struck.insert(formats);
                }
                formats += 1;
            }
            _ => {}
        },
    );
    struck
}

fn read_sheet(archive: &mut Archive<'_>, part: &str, struck: &HashSet<usize>, marks: &mut Marks) {
    let (mut row, mut next_row, mut column) = (0_usize, 0_usize, 0_usize);
    each(archive, part, |name, element, opened| {
        if !opened {
            return;
        }
        match name {
            "col" if is_true(element, "hidden") => {
                let (first, last) = (
                    number(element, "min").unwrap_or(1),
                    number(element, "max").unwrap_or(1),
                );
                // A sheet hides all columns to its right up to the last; that is no list.
                for column in first..=last.min(super::MOST_COLUMNS) {
                    marks.columns.insert(column.saturating_sub(1));
                }
            }
            "row" => {
                row = number(element, "r").map_or(next_row, |r| r.saturating_sub(1));
                next_row = row + 1;
                column = 0;
                if is_true(element, "hidden") {
                    marks.rows.insert(row);
                }
            }
            "c" => {
                if let Some(place) = attribute(element, "r") {
                    let letters: String = place
                        .chars()
                        .take_while(char::is_ascii_alphabetic)
                        .collect();
                    column = super::column_named(&letters).unwrap_or(column);
                }
                if number(element, "s").is_some_and(|style| struck.contains(&style)) {
                    marks.struck.insert((row, column));
                }
                column += 1;
            }
            _ => {}
        }
    });
}
