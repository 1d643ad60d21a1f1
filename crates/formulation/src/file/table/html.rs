//! A table copied from a web page or an e-mail: the cells of `<table>` elements,
//! read leniently, as browsers do.

use super::amounts::masses_in;
use super::words::is_aside;
use super::{ASIDE, Cell, Collector, MOST_COLUMNS, Table, TableError};

/// Whether a text is HTML with a table in it.
pub fn looks_like_html(text: &str) -> bool {
    find_tag(text, "table").is_some() || find_tag(text, "tr").is_some()
}

/// The place of an opening tag.
pub(super) fn find_tag(text: &str, name: &str) -> Option<usize> {
    text.match_indices('<')
        .map(|(place, _)| place)
        .find(|place| {
            let rest = text.get(place + 1..).unwrap_or_default();
            rest.get(..name.len())
                .is_some_and(|start| start.eq_ignore_ascii_case(name))
                && rest
                    .get(name.len()..)
                    .is_some_and(|rest| rest.starts_with(['>', ' ', '\t', '\r', '\n', '/']))
        })
}

/// Reads every table; tables within a cell are read as part of the cell's text.
pub fn read(text: &str) -> Result<Vec<Table>, TableError> {
    let mut reader = Tables::default();
    let mut rest = text;
    while let Some(open) = rest.find('<') {
        let (before, tag) = rest.split_at(open);
        reader.text(before);
        if let Some(comment) = tag.strip_prefix("<!--") {
            rest = comment.split_once("-->").map_or("", |(_, after)| after);
            continue;
        }
        if !tag
            .get(1..)
            .is_some_and(|t| t.starts_with(|c: char| c.is_ascii_alphabetic() || "/!?".contains(c)))
        {
            reader.text("<");
            rest = tag.get(1..).unwrap_or_default();
            continue;
        }
        let end = tag_end(tag);
        let inner = tag.get(1..end).unwrap_or_default();
        rest = tag.get(end + 1..).unwrap_or_default();
        let name: String = inner
            .chars()
            .take_while(|c| c.is_ascii_alphanumeric() || *c == '/')
            .map(|c| c.to_ascii_lowercase())
            .collect();
        let name = if name.starts_with('/') {
            name.as_str()
        } else {
            name.trim_end_matches('/')
        };
        // What scripts and style sheets say is not text, and what is struck through is gone.
        if matches!(name, "script" | "style" | "del" | "s" | "strike") {
            let after = find_closing(rest, name).unwrap_or_default();
            if !matches!(name, "script" | "style") {
                let gone = rest.len() - after.len();
                reader.struck(rest.get(..gone).unwrap_or_default());
            }
            rest = after;
            continue;
        }
        reader.tag(name, inner)?;
    }
    reader.text(rest);
    reader.end_table()?;
    reader.end_heading()?;
    reader.say_below()?;
    Ok(reader.done)
}

/// Where a tag ends: at the first `>` outside quotes.
pub(super) fn tag_end(tag: &str) -> usize {
    let mut quote = None;
    for (place, c) in tag.char_indices() {
        match (quote, c) {
            (None, '>') => return place,
            (None, '"' | '\'') => quote = Some(c),
            (Some(q), c) if q == c => quote = None,
            _ => {}
        }
    }
    // A quote that never closes: the first `>` after all.
    tag.find('>').unwrap_or(tag.len())
}

pub(super) fn find_closing<'t>(text: &'t str, name: &str) -> Option<&'t str> {
    text.match_indices("</").find_map(|(place, _)| {
        let rest = text.get(place + 2..)?;
        let named = rest.get(..name.len())?.eq_ignore_ascii_case(name)
            && !rest
                .get(name.len()..)?
                .starts_with(|c: char| c.is_ascii_alphanumeric());
        if named {
            rest.split_once('>').map(|(_, after)| after)
        } else {
            None
        }
    })
}

/// Most headings and paragraphs above or below a table that are kept with it.
const MOST_SAID: usize = 8;
/// The same below the last table, where the steps stand.
const MOST_BELOW: usize = 40;
/// Stands for a new line within a cell until the cell ends (Unicode LINE SEPARATOR).
const NEW_LINE: &str = "\u{2028}";
/// Letters of the longest of them; longer ones are the prose of a page.
const LONGEST_SAID: usize = 300;

/// The tables read so far and the one at hand.
#[derive(Default)]
struct Tables {
    done: Vec<Table>,
    cells: usize,
    now: Option<Collector>,
    /// Tables opened within a cell of the one at hand.
    inner: usize,
    row: usize,
    column: usize,
    rows_begun: bool,
    /// For each column, how many more rows a cell from above covers.
    covered: Vec<usize>,
    cell: Option<OpenCell>,
    /// The heading that is open outside of tables.
    heading: Option<String>,
    /// It is a paragraph of the page, of which only the size of a batch is wanted.
    only_sizes: bool,
    /// Headings above the next table, or what is said below the last.
    headings: Vec<Said>,
    /// What the heading that is open is.
    saying: Saying,
    /// What others say follows.
    aside: bool,
}

/// What a text outside of tables is.
#[derive(Clone, Copy, PartialEq, Eq, Default)]
enum Saying {
    #[default]
    Heading,
    Paragraph,
    /// An entry of a list, which is only kept below the last table.
    Entry,
}

/// A text outside of tables.
struct Said {
    text: String,
    is_entry: bool,
    /// It is of others.
    aside: bool,
}

struct OpenCell {
    text: String,
    struck: String,
    columns: usize,
    rows: usize,
}

impl Tables {
    fn text(&mut self, text: &str) {
        if let Some(cell) = &mut self.cell {
            push_text(text, &mut cell.text);
        } else if let Some(heading) = &mut self.heading {
            push_text(text, heading);
        }
    }

    /// What is struck through in a cell; tags within it count for nothing.
    fn struck(&mut self, html: &str) {
        if let Some(cell) = &mut self.cell {
            push_bare(html, &mut cell.struck);
        }
    }

    fn tag(&mut self, name: &str, inner: &str) -> Result<(), TableError> {
        match name {
            // A table that only lays out the page: its cell holds nothing but another one.
            "table"
                if self.cell.as_ref().is_some_and(|c| c.text.trim().is_empty())
                    && self.now.as_ref().is_some_and(|now| now.cells == self.cells) =>
            {
                self.cell = None;
                self.now = None;
                self.begin_table()?;
            }
            "table" if self.cell.is_some() => self.inner += 1,
            "/table" if self.inner > 0 => self.inner -= 1,
            _ if self.inner > 0 => {
                if matches!(name, "td" | "th" | "tr" | "br" | "p" | "div") {
                    self.text(" ");
                }
            }
            "table" => {
                self.end_table()?;
                self.begin_table()?;
            }
            "/table" => self.end_table()?,
            "h1" | "h2" | "h3" | "h4" | "h5" | "h6" | "caption" if self.cell.is_none() => {
                self.end_heading()?;
                self.saying = Saying::Heading;
                self.heading = Some(String::new());
            }
            // The steps below a recipe.
            "li" if self.cell.is_none() && self.now.is_none() && !self.done.is_empty() => {
                self.end_heading()?;
                self.saying = Saying::Entry;
                self.heading = Some(String::new());
            }
            "/li" if self.saying == Saying::Entry && self.heading.is_some() => {
                self.end_heading()?;
            }
            // What is said around the tables of a recipe: "for 100 g", "heat A and B".
            "p" if self.cell.is_none() => {
                self.end_heading()?;
                self.only_sizes = self.headings.is_empty() && self.done.is_empty();
                self.saying = Saying::Paragraph;
                self.heading = Some(String::new());
            }
            "/p" if self.heading.is_some() => self.end_heading()?,
            "/h1" | "/h2" | "/h3" | "/h4" | "/h5" | "/h6" | "/caption" => self.end_heading()?,
            "tr" => {
                self.end_cell()?;
                if self.now.is_none() {
                    self.begin_table()?;
                }
                if self.rows_begun {
                    self.next_row();
                }
                self.rows_begun = true;
            }
            "td" | "th" => {
                self.end_cell()?;
                if self.now.is_some() {
                    while self.covered.get(self.column).is_some_and(|&n| n > 0) {
                        self.column += 1;
                    }
                    self.cell = Some(OpenCell {
                        text: String::new(),
                        struck: String::new(),
                        columns: span(inner, "colspan"),
                        rows: span(inner, "rowspan"),
                    });
                }
            }
            "/tr" | "/td" | "/th" => self.end_cell()?,
            // A new line in a cell may part a name from its INCI names.
            "br" if self.cell.is_some() => self.text(NEW_LINE),
            "br" | "p" | "div" | "li" | "/p" | "/div" | "/li" => self.text(" "),
            _ => {}
        }
        Ok(())
    }

    /// A table begins with the headings above it, each a row of one cell.
    fn begin_table(&mut self) -> Result<(), TableError> {
        self.heading = None;
        let mut now = Collector::new("", self.cells);
        let mut headings = std::mem::take(&mut self.headings);
        headings.retain(|said| !said.is_entry);
        self.aside = false;
        // What stands far above belongs to the page.
        headings.drain(..headings.len().saturating_sub(MOST_SAID));
        self.row = headings.len();
        for (row, heading) in headings.into_iter().enumerate() {
            now.put(row, 0, Cell::Text(heading.text))?;
        }
        self.now = Some(now);
        self.column = 0;
        self.rows_begun = false;
        self.covered.clear();
        Ok(())
    }

    fn end_heading(&mut self) -> Result<(), TableError> {
        let Some(heading) = self.heading.take() else {
            return Ok(());
        };
        let only_sizes = std::mem::take(&mut self.only_sizes);
        let saying = std::mem::take(&mut self.saying);
        let heading = heading.split_whitespace().collect::<Vec<_>>().join(" ");
        if heading.is_empty() || heading.len() > LONGEST_SAID {
            return Ok(());
        }
        match &mut self.now {
            // A caption stands within its table.
            Some(now) if !self.rows_begun => {
                now.put(self.row, 0, Cell::Text(heading))?;
                self.row += 1;
            }
            Some(_) => {}
            None if only_sizes && masses_in(&heading).is_empty() => {}
            None => {
                if saying == Saying::Heading {
                    self.aside = is_aside(&heading);
                }
                self.headings.push(Said {
                    text: heading,
                    is_entry: saying == Saying::Entry,
                    aside: self.aside,
                });
            }
        }
        Ok(())
    }

    /// What is said below the last table stands below it.
    fn say_below(&mut self) -> Result<(), TableError> {
        let Some(last) = self.done.pop() else {
            return Ok(());
        };
        let mut below = Collector::new("", self.cells);
        below.table = last;
        let first = below.table.rows.len() + 1;
        for (n, said) in self.headings.drain(..).take(MOST_BELOW).enumerate() {
            if said.aside {
                below.table.left_out.insert(first + n, ASIDE);
            }
            below.put(first + n, 0, Cell::Text(said.text))?;
        }
        self.done.push(below.table);
        Ok(())
    }

    fn next_row(&mut self) {
        self.row += 1;
        self.column = 0;
        for rows in &mut self.covered {
            *rows = rows.saturating_sub(1);
        }
    }

    fn end_cell(&mut self) -> Result<(), TableError> {
        let (Some(cell), Some(now)) = (self.cell.take(), &mut self.now) else {
            return Ok(());
        };
        let last = self.column.saturating_add(cell.columns);
        if cell.rows > 1 && last <= MOST_COLUMNS {
            if self.covered.len() < last {
                self.covered.resize(last, 0);
            }
            for rows in self.covered.iter_mut().take(last).skip(self.column) {
                *rows = cell.rows;
            }
        }
        let joined = |text: &str| {
            let lines = text.split(NEW_LINE);
            let lines = lines.map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "));
            let filled: Vec<String> = lines.filter(|line| !line.is_empty()).collect();
            filled.join("\n")
        };
        let (text, struck) = (joined(&cell.text), joined(&cell.struck));
        let place = (self.row, self.column);
        if !struck.is_empty() && text.is_empty() {
            now.table.struck.insert(place);
            now.put(self.row, self.column, Cell::Text(struck))?;
        } else {
            if !struck.is_empty() {
                now.table.struck_words.insert(place, struck);
            }
            now.put(self.row, self.column, Cell::Text(text))?;
        }
        self.column = last;
        Ok(())
    }

    fn end_table(&mut self) -> Result<(), TableError> {
        self.end_cell()?;
        if let Some(done) = self.now.take() {
            self.cells = done.cells;
            self.done.push(done.table);
        }
        self.inner = 0;
        Ok(())
    }
}

/// How many columns or rows a cell covers; browsers take at most 1,000.
fn span(inner: &str, name: &str) -> usize {
    let lower = inner.to_ascii_lowercase();
    let Some((_, rest)) = lower.split_once(name) else {
        return 1;
    };
    rest.trim_start_matches([' ', '=', '"', '\''])
        .chars()
        .take_while(char::is_ascii_digit)
        .take(5)
        .collect::<String>()
        .parse()
        .map_or(1, |n: usize| n.clamp(1, 1000))
}

/// Adds the text of some HTML without its tags.
fn push_bare(html: &str, out: &mut String) {
    let mut rest = html;
    while let Some(open) = rest.find('<') {
        let (before, tag) = rest.split_at(open);
        push_text(before, out);
        out.push(' ');
        rest = tag.get(tag_end(tag) + 1..).unwrap_or_default();
    }
    push_text(rest, out);
}

/// Adds text with its character references resolved.
pub(super) fn push_text(text: &str, out: &mut String) {
    let mut rest = text;
    while let Some(place) = rest.find('&') {
        let (before, reference) = rest.split_at(place);
        out.push_str(before);
        let name_end = reference
            .char_indices()
            .skip(1)
            .find(|(n, c)| *n > 12 || !(c.is_ascii_alphanumeric() || *c == '#'))
            .map_or(reference.len(), |(n, _)| n);
        let name = reference.get(1..name_end).unwrap_or_default();
        if let Some(c) = character(name) {
            out.push(c);
            let after = reference.get(name_end..).unwrap_or_default();
            rest = after.strip_prefix(';').unwrap_or(after);
        } else {
            out.push('&');
            rest = reference.get(1..).unwrap_or_default();
        }
    }
    out.push_str(rest);
}

/// The character that a reference names: numbers, and the names that appear in
/// recipes (HTML Living Standard, "Named character references").
fn character(name: &str) -> Option<char> {
    if let Some(number) = name.strip_prefix('#') {
        let code = match number.strip_prefix(['x', 'X']) {
            Some(hex) => u32::from_str_radix(hex, 16).ok()?,
            None => number.parse().ok()?,
        };
        return char::from_u32(code);
    }
    Some(match name {
        "amp" => '&',
        "lt" => '<',
        "gt" => '>',
        "quot" => '"',
        "apos" => '\'',
        "nbsp" => '\u{A0}',
        "thinsp" => '\u{2009}',
        "deg" => '°',
        "middot" => '·',
        "ndash" => '–',
        "mdash" => '—',
        "minus" => '−',
        "plusmn" => '±',
        "times" => '×',
        "frac12" => '½',
        "frac14" => '¼',
        "frac34" => '¾',
        "micro" => 'µ',
        "euro" => '€',
        "pound" => '£',
        "reg" => '®',
        "trade" => '™',
        "copy" => '©',
        "hellip" => '…',
        "alpha" => 'α',
        "beta" => 'β',
        "auml" => 'ä',
        "ouml" => 'ö',
        "uuml" => 'ü',
        "Auml" => 'Ä',
        "Ouml" => 'Ö',
        "Uuml" => 'Ü',
        "szlig" => 'ß',
        "eacute" => 'é',
        "egrave" => 'è',
        "ecirc" => 'ê',
        "agrave" => 'à',
        "acirc" => 'â',
        "ccedil" => 'ç',
        "icirc" => 'î',
        "ocirc" => 'ô',
        "ucirc" => 'û',
        "iacute" => 'í',
        "oacute" => 'ó',
        "uacute" => 'ú',
        "aacute" => 'á',
        "ntilde" => 'ñ',
        "oslash" => 'ø',
        "aring" => 'å',
        "aelig" => 'æ',
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(html: &str) -> Vec<Vec<String>> {
        read(html)
            .unwrap()
            .first()
            .map(|t| {
                t.rows
                    .iter()
                    .map(|r| r.iter().map(Cell::words).collect())
                    .collect()
            })
            .unwrap_or_default()
    }

    #[test]
    fn cells_come_in_rows() {
        assert_eq!(
            rows(
                "<TABLE class='a>b'><tr><th>Name<th>%</tr>\n<tr><td><b>Oat&nbsp;oil</b> &amp; more<br>x</td><td>2,5</td></tr></table>"
            ),
            [vec!["Name", "%"], vec!["Oat oil & more x", "2,5"]]
        );
        assert_eq!(
            rows("<tr><td>a<td>b<tr><td>c<td>d"),
            [vec!["a", "b"], vec!["c", "d"]]
        );
    }

    #[test]
    fn spans_keep_the_columns_straight() {
        assert_eq!(
            rows(
                "<table><tr><td rowspan=2>A</td><td>x</td><td>1</td></tr><tr><td>y</td><td>2</td></tr><tr><td colspan=\"2\">z</td><td>3</td></tr></table>"
            ),
            [vec!["A", "x", "1"], vec!["", "y", "2"], vec!["z", "", "3"]]
        );
    }

    #[test]
    fn scripts_comments_and_inner_tables_make_no_cells() {
        assert_eq!(
            rows(
                "<table><!-- <tr><td>no --><script>'<td>'</script><tr><td>a <table><tr><td>in</td></tr></table></td><td>b</td></tr></table>"
            ),
            [vec!["a in", "b"]]
        );
    }

    #[test]
    fn a_million_columns_are_refused() {
        let wide = format!("<table><tr>{}</tr></table>", "<td>1".repeat(1_000_000));
        assert!(matches!(
            read(&wide),
            Err(TableError::TooManyColumns { .. })
        ));
        let spans = format!("<table><tr>{}", "<td colspan=1000>1".repeat(10));
        assert!(matches!(
            read(&spans),
            Err(TableError::TooManyColumns { .. })
        ));
    }

    #[test]
    fn odd_text_does_not_break_it() {
        for text in [
            "<",
            "<table",
            "<table><tr><td",
            "<tr><td>&",
            "<tr><td>&#xFFFFFFFF; a < b",
            "<tr a='",
            "<!--",
            "<tr><td>&ü",
        ] {
            let _ = read(text);
            looks_like_html(text);
        }
        assert_eq!(
            rows("<tr><td>a < b &bogus; &#228;"),
            [vec!["a < b &bogus; ä"]]
        );
    }
}
