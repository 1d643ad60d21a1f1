//! A page or mail without a table: its text in lines, one for each block. Headings above lists,
//! above tools and above what readers say are marked as Markdown marks them.

use super::html::{find_closing, find_tag, push_text, tag_end};
use super::items::items;
use super::words::{is_aside, words};
use crate::naming::words_of;

/// Whether a text is HTML without a table: a list or a page of lines.
pub fn looks_like_page(text: &str) -> bool {
    ["li", "p", "br", "div", "html", "body"]
        .iter()
        .any(|name| find_tag(text, name).is_some())
        && text.contains("</")
}

/// A heading of a page.
#[derive(Clone, Copy, Debug)]
struct Heading {
    /// Where it begins and ends in the text.
    from: usize,
    to: usize,
    /// From 1 on; a line in bold letters is below all others.
    level: usize,
}

/// The level of a line that is all in bold letters.
const IN_BOLD: usize = 7;

/// The text of a page, and its headings.
#[derive(Default)]
struct Page {
    text: String,
    headings: Vec<Heading>,
    /// Where each entry of a list begins.
    entries: Vec<usize>,
    /// The lists that are open, with the number of the last entry of those that are numbered.
    lists: Vec<Option<u32>>,
    /// Where the block at hand begins, if one in bold letters may be a heading.
    block: Option<usize>,
    /// Where bold letters begin and end in the block.
    bold: Option<(usize, Option<usize>)>,
    /// Where something quoted begins and ends, the end not known while it is open.
    quoted: Vec<(usize, Option<usize>)>,
}

/// The text of a page in lines, one for each block, without scripts and styles.
pub fn lines(text: &str) -> String {
    Page::of(text).marked()
}

impl Page {
    fn of(text: &str) -> Self {
        let mut page = Self::default();
        let mut rest = text;
        while let Some(open) = rest.find('<') {
            let (before, tag) = rest.split_at(open);
            push_text(before, &mut page.text);
            if let Some(comment) = tag.strip_prefix("<!--") {
                rest = comment.split_once("-->").map_or("", |(_, after)| after);
                continue;
            }
            let end = tag_end(tag);
            let inner = tag.get(1..end).unwrap_or_default();
            let closes = inner.starts_with('/');
            let name: String = inner
                .trim_start_matches('/')
                .chars()
                .take_while(char::is_ascii_alphanumeric)
                .map(|c| c.to_ascii_lowercase())
                .collect();
            rest = tag.get(end + 1..).unwrap_or_default();
            if !closes && is_gone(&name) {
                rest = find_closing(rest, &name).unwrap_or_default();
            } else {
                page.tag(&name, closes);
            }
        }
        push_text(rest, &mut page.text);
        page.end_block();
        page
    }

    fn tag(&mut self, name: &str, closes: bool) {
        match name {
            "h1" | "h2" | "h3" | "h4" | "h5" | "h6" if closes => {
                let level = name.bytes().last().map_or(1, |b| usize::from(b - b'0'));
                self.end_heading(level);
                self.text.push('\n');
            }
            // What is told of a term stands in the same line.
            "dd" if !closes => {
                let kept = self.text.trim_end().len();
                self.text.truncate(kept);
                self.text.push_str(": ");
            }
            "b" | "strong" if !closes => self.bold = self.bold.or(Some((self.text.len(), None))),
            "b" | "strong" => {
                if let Some((_, end)) = &mut self.bold {
                    *end = Some(self.text.len());
                }
            }
            "i" | "em" | "span" | "a" | "u" | "sup" | "sub" | "font" => {}
            "blockquote" => {
                self.end_block();
                self.text.push('\n');
                let at = self.text.len();
                match self.quoted.last_mut().filter(|(_, end)| end.is_none()) {
                    Some((_, end)) if closes => *end = Some(at),
                    // One within another goes on with it.
                    None if !closes => self.quoted.push((at, None)),
                    _ => {}
                }
            }
            _ => {
                self.end_block();
                self.text.push('\n');
                let is_block = !closes && matches!(name, "p" | "div" | "br");
                self.block = is_block.then_some(self.text.len());
                match name {
                    "ol" | "ul" if closes => drop(self.lists.pop()),
                    "ol" => self.lists.push(Some(0)),
                    "ul" => self.lists.push(None),
                    "li" | "dt" if !closes => {
                        self.entries.push(self.text.len());
                        if let Some(Some(last)) = self.lists.last_mut() {
                            *last += 1;
                            self.text.push_str(&last.to_string());
                            self.text.push_str(". ");
                        }
                    }
                    _ => {}
                }
            }
        }
    }

    /// The line at hand is a heading.
    fn end_heading(&mut self, level: usize) {
        let from = self.text.rfind('\n').map_or(0, |place| place + 1);
        let to = self.text.len();
        if self
            .text
            .get(from..to)
            .is_some_and(|t| !t.trim().is_empty())
        {
            self.headings.push(Heading { from, to, level });
        }
        self.block = None;
        self.bold = None;
    }

    /// A block that is all in bold letters may be a heading.
    fn end_block(&mut self) {
        let (block, bold) = (self.block.take(), self.bold.take());
        let (Some(from), Some((start, Some(end)))) = (block, bold) else {
            return;
        };
        let blank = |from: usize, to: usize| self.text.get(from..to).is_some_and(is_blank);
        let all = blank(from, start) && blank(end, self.text.len()) && !blank(start, end);
        if all && self.text.get(start..end).is_some_and(|t| !t.contains('\n')) {
            self.headings.push(Heading {
                from: start,
                to: end,
                level: IN_BOLD,
            });
        }
    }

    /// What stands below a heading, down to the next.
    fn below(&self, at: usize) -> &str {
        let from = self.headings.get(at).map_or(0, |h| h.to);
        let to = self
            .headings
            .get(at + 1)
            .map_or(self.text.len(), |h| h.from);
        self.text.get(from..to).unwrap_or_default()
    }

    fn said(&self, heading: Heading) -> &str {
        self.text.get(heading.from..heading.to).unwrap_or_default()
    }

    /// Whether a list of materials stands right below a heading.
    fn heads_a_list(&self, at: usize) -> bool {
        let Some(heading) = self.headings.get(at) else {
            return false;
        };
        let end = self
            .headings
            .get(at + 1)
            .map_or(self.text.len(), |h| h.from);
        let listed = self.entries.iter().any(|e| (heading.to..end).contains(e));
        let lines = self
            .below(at)
            .lines()
            .map(str::trim)
            .filter(|l| !l.is_empty());
        let (mut all, mut measured) = (0, 0);
        for line in lines {
            all += 1;
            measured += usize::from(!items(line, None, false).lines.is_empty());
        }
        listed && measured > 0 && measured * 2 > all
    }

    /// The headings above lists that stand side by side, as the phases of a recipe do: of the
    /// same level, with none of a higher one between them.
    fn of_lists(&self) -> Vec<usize> {
        let lists: Vec<usize> = (0..self.headings.len())
            .filter(|&at| self.heads_a_list(at))
            .collect();
        let level = |at: usize| self.headings.get(at).map_or(0, |h| h.level);
        let beside = |a: usize, b: usize| {
            let (from, to) = (a.min(b), a.max(b));
            level(a) == level(b) && (from..to).all(|between| level(between) >= level(a))
        };
        let has_another = |at: &&usize| {
            lists
                .iter()
                .any(|other| *other != **at && beside(**at, *other))
        };
        lists.iter().filter(has_another).copied().collect()
    }

    /// The headings above tools and above what readers say, and those that end what stands
    /// below them.
    fn of_asides(&self) -> Vec<usize> {
        let mut marked = Vec::new();
        let mut inside: Option<usize> = None;
        for (at, heading) in self.headings.iter().enumerate() {
            let said = self.said(*heading);
            let tools = words().tools.contains(&words_of(said).join(" "));
            // A name in bold letters begins what a reader says.
            let of_reader = inside.is_some_and(|level| heading.level > level);
            if of_reader {
                continue;
            }
            let begins = tools || is_aside(said) && heading.level < IN_BOLD;
            if begins || inside.is_some() {
                marked.push(at);
            }
            inside = begins.then_some(heading.level);
        }
        marked
    }

    /// Where the lines begin that are quoted.
    fn quoted_lines(&self) -> Vec<usize> {
        let mut starts = Vec::new();
        for (from, to) in &self.quoted {
            let to = to.unwrap_or(self.text.len());
            let mut at = *from;
            for line in self.text.get(*from..to).unwrap_or_default().split('\n') {
                if !is_blank(line) {
                    starts.push(at);
                }
                at += line.len() + 1;
            }
        }
        starts
    }

    /// The text with its headings marked.
    fn marked(self) -> String {
        let mut marked = self.of_lists();
        marked.extend(self.of_asides());
        // What stands first of all, larger than the rest, is the name.
        let first = self.headings.first().filter(|h| {
            let before = self.text.get(..h.from);
            h.level == 1 && before.is_some_and(is_blank)
        });
        marked.extend(first.map(|_| 0));
        marked.sort_unstable();
        marked.dedup();
        let headings = marked.into_iter().filter_map(|at| self.headings.get(at));
        let mut marks: Vec<(usize, String)> = headings
            .map(|heading| (heading.from, format!("{} ", "#".repeat(heading.level))))
            .collect();
        marks.extend(
            self.quoted_lines()
                .into_iter()
                .map(|at| (at, "> ".to_owned())),
        );
        // From the end, so that the places before stay what they are.
        marks.sort_by_key(|(at, _)| std::cmp::Reverse(*at));
        let mut text = self.text;
        for (at, mark) in marks {
            text.insert_str(at, &mark);
        }
        text
    }
}

fn is_blank(text: &str) -> bool {
    text.trim().is_empty()
}

/// Whether what stands in an element is no text of the page, or struck through.
fn is_gone(name: &str) -> bool {
    matches!(
        name,
        "script"
            | "style"
            | "nav"
            | "footer"
            | "form"
            | "button"
            | "title"
            | "del"
            | "s"
            | "strike"
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn filled(html: &str) -> Vec<String> {
        let text = lines(html);
        let lines = text.lines().map(str::trim).filter(|l| !l.is_empty());
        lines.map(str::to_owned).collect()
    }

    #[test]
    fn headings_of_lists_beside_each_other_are_marked() {
        let page = "<h1>Balm</h1><p>for 4 jars</p><h3>Fats</h3><ul><li>30 g shea butter</li></ul><h3>Later</h3><ul><li>9 g argan oil</li></ul><h3>Method</h3><ol><li>Melt.</li></ol><h3>2 comments</h3><p><b>Ivo</b></p><p>I took 5 g of wax.</p>";
        let expected = [
            "# Balm",
            "for 4 jars",
            "### Fats",
            "30 g shea butter",
            "### Later",
            "9 g argan oil",
            "Method",
            "1. Melt.",
            "### 2 comments",
            "Ivo",
            "I took 5 g of wax.",
        ];
        assert_eq!(filled(page), expected);
        let bold = "<p><b>Fats</b></p><ul><li>30 g shea butter</li></ul><p><strong>Later</strong></p><ul><li>9 g argan oil</li></ul>";
        assert_eq!(filled(bold)[2], "####### Later");
    }

    #[test]
    fn what_is_quoted_is_marked_line_by_line() {
        let page = "<p>New: 5 g wax</p><blockquote>Old:<br>4 g wax</blockquote><p>Bye</p>";
        assert_eq!(filled(page), ["New: 5 g wax", "> Old:", "> 4 g wax", "Bye"]);
    }

    #[test]
    fn one_list_needs_no_mark() {
        let page = "<h2>You need</h2><ul><li>30 g shea butter</li><li>9 g oil</li></ul><h2>Method</h2><p>Melt.</p>";
        assert_eq!(filled(page)[0], "You need");
    }
}
