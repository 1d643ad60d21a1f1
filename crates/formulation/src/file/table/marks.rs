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
    /// Texts of which a part is struck through.
    pub(super) partly: BTreeMap<(usize, usize), Partly>,
}

/// A text of which a part is struck through.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(super) struct Partly {
    pub(super) left: String,
    pub(super) struck: String,
}

/// What is met in a part of the archive.
enum Met<'e> {
    Opened(&'e str, &'e BytesStart<'e>),
    Text(&'e str),
    Closed(&'e str),
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

/// Calls for everything in a part; a part that cannot be read has nothing, because the
/// reader of the values reports what is damaged.
fn each(archive: &mut Archive<'_>, part: &str, mut met: impl FnMut(Met<'_>)) {
    if !archive.holds(part) {
        return;
    }
    let Ok(text) = archive.text(part) else { return };
    let mut reader = Reader::from_str(&text);
    while let Ok(event) = reader.read_event() {
        match event {
            Event::Start(e) => met(Met::Opened(local(e.name().as_ref()), &e)),
            Event::Empty(e) => {
                met(Met::Opened(local(e.name().as_ref()), &e));
                met(Met::Closed(local(e.name().as_ref())));
            }
            Event::End(e) => met(Met::Closed(local(e.name().as_ref()))),
            Event::Text(t) => met(Met::Text(&t.xml10_content())),
            Event::GeneralRef(e) => {
                if let Ok(Some(letter)) = e.resolve_char_ref() {
                    met(Met::Text(letter.encode_utf8(&mut [0; 4])));
                } else {
                    let known = quick_xml::escape::resolve_predefined_entity(e.as_ref());
                    met(Met::Text(known.unwrap_or_default()));
                }
            }
            Event::Eof => return,
            _ => {}
        }
    }
}

/// Collects the runs of a text and which of them are struck through.
#[derive(Default)]
struct Runs {
    text: Partly,
    lined: bool,
    in_words: bool,
}

impl Runs {
    /// Takes in what is met within a text.
    fn meet(&mut self, met: &Met<'_>) {
        match met {
            Met::Opened("r", _) => self.lined = false,
            Met::Opened("strike", element) => self.lined = !is_off(element),
            Met::Opened("t", _) => self.in_words = true,
            Met::Closed("t") => self.in_words = false,
            Met::Text(words) if self.in_words => {
                if self.lined {
                    self.text.struck.push_str(words);
                } else {
                    self.text.left.push_str(words);
                }
            }
            _ => {}
        }
    }
}

/// Whether an element such as `<strike val="0"/>` says no.
fn is_off(element: &BytesStart<'_>) -> bool {
    attribute(element, "val").is_some_and(|v| v == "0" || v == "false")
}

/// The shared texts of which a part is struck through, by their number.
fn partly_struck(archive: &mut Archive<'_>) -> BTreeMap<usize, Partly> {
    let mut found = BTreeMap::new();
    let (mut count, mut runs) = (0_usize, Runs::default());
    each(archive, "xl/sharedStrings.xml", |met| match met {
        Met::Opened("si", _) => runs = Runs::default(),
        Met::Closed("si") => {
            if !runs.text.struck.is_empty() {
                found.insert(count, std::mem::take(&mut runs.text));
            }
            count += 1;
        }
        met => runs.meet(&met),
    });
    found
}

fn local(name: &str) -> &str {
    name.rsplit_once(':').map_or(name, |(_, local)| local)
}

/// The marks of every sheet by name.
pub(super) fn read(archive: &mut Archive<'_>) -> BTreeMap<String, Marks> {
    let mut sheets: Vec<(String, String, bool)> = Vec::new();
    let mut active = 0;
    each(archive, "xl/workbook.xml", |met| {
        let Met::Opened(name, element) = met else {
            return;
        };
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
    each(archive, "xl/_rels/workbook.xml.rels", |met| {
        if let Met::Opened("Relationship", element) = met
            && let (Some(id), Some(target)) =
                (attribute(element, "Id"), attribute(element, "Target"))
        {
            let target = target
                .strip_prefix('/')
                .map_or_else(|| format!("xl/{target}"), str::to_owned);
            targets.insert(id, target);
        }
    });
    let struck_styles = struck_styles(archive);
    let partly = partly_struck(archive);
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
                read_sheet(archive, part, &struck_styles, &partly, &mut marks);
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
    each(archive, "xl/styles.xml", |met| match met {
        Met::Opened("fonts", _) => in_fonts = true,
        Met::Closed("fonts") => in_fonts = false,
        Met::Opened("cellXfs", _) => in_formats = true,
        Met::Closed("cellXfs") => in_formats = false,
        Met::Opened("font", _) if in_fonts => fonts += 1,
        Met::Opened("strike", element) if in_fonts && !is_off(element) => {
            struck_fonts.insert(fonts.saturating_sub(1));
        }
        Met::Opened("xf", element) if in_formats => {
            if number(element, "fontId").is_some_and(|font| struck_fonts.contains(&font)) {
                struck.insert(formats);
            }
            formats += 1;
        }
        _ => {}
    });
    struck
}

fn read_sheet(
    archive: &mut Archive<'_>,
    part: &str,
    struck: &HashSet<usize>,
    partly: &BTreeMap<usize, Partly>,
    marks: &mut Marks,
) {
    let (mut row, mut next_row, mut column) = (0_usize, 0_usize, 0_usize);
    // The cell that is open: whether its value is the number of a shared text, the value
    // itself, and the runs of a text within it.
    let (mut shared, mut value, mut in_value) = (false, String::new(), false);
    let mut runs = Runs::default();
    each(archive, part, |met| match met {
        Met::Opened("col", element) if is_true(element, "hidden") => {
            let (first, last) = (
                number(element, "min").unwrap_or(1),
                number(element, "max").unwrap_or(1),
            );
            // A sheet hides all columns to its right up to the last; that is no list.
            for column in first..=last.min(super::MOST_COLUMNS) {
                marks.columns.insert(column.saturating_sub(1));
            }
        }
        Met::Opened("row", element) => {
            row = number(element, "r").map_or(next_row, |r| r.saturating_sub(1));
            next_row = row + 1;
            column = 0;
            if is_true(element, "hidden") {
                marks.rows.insert(row);
            }
        }
        Met::Opened("c", element) => {
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
            shared = attribute(element, "t").is_some_and(|kind| kind == "s");
            value.clear();
            runs = Runs::default();
        }
        Met::Opened("v", _) => in_value = true,
        Met::Closed("v") => in_value = false,
        Met::Text(text) if in_value => value.push_str(text),
        Met::Closed("c") => {
            let words = if shared {
                value
                    .trim()
                    .parse()
                    .ok()
                    .and_then(|n: usize| partly.get(&n))
                    .cloned()
            } else {
                Some(std::mem::take(&mut runs.text)).filter(|words| !words.struck.is_empty())
            };
            if let Some(words) = words {
                if words.left.trim().is_empty() {
                    marks.struck.insert((row, column));
                } else {
                    marks.partly.insert((row, column), words);
                }
            }
            column += 1;
        }
        met => runs.meet(&met),
    });
}
