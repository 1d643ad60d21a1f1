//! Draws Markdown: headings, paragraphs, lists, tables, code and links.

use eframe::egui::{self, RichText, Ui};
use pulldown_cmark::{Event, HeadingLevel, Options, Parser, Tag, TagEnd};

use super::{HelpPlace, Page};
use crate::theme;

/// A run of text within a paragraph.
#[derive(Clone, Debug, PartialEq)]
struct Run {
    text: String,
    strong: bool,
    italic: bool,
    code: bool,
    link: Option<String>,
}

/// A block of a page.
#[derive(Clone, Debug, PartialEq)]
enum Block {
    Heading(String),
    Paragraph(Vec<Run>),
    /// A point of a list with its depth and its number, if it has one.
    Point(usize, Option<u64>, Vec<Run>),
    Code(String),
    Table(Vec<Vec<Vec<Run>>>),
}

/// Reads Markdown into blocks. Pictures are told by their words.
fn blocks(text: &str) -> Vec<Block> {
    let mut out: Vec<Block> = Vec::new();
    let mut runs: Vec<Run> = Vec::new();
    let (mut strong, mut italic, mut link) = (false, false, None);
    let mut lists: Vec<Option<u64>> = Vec::new();
    let (mut code, mut table, mut in_item) = (None, None::<Vec<Vec<Vec<Run>>>>, false);
    let point = |lists: &mut Vec<Option<u64>>, runs: Vec<Run>| {
        let depth = lists.len().saturating_sub(1);
        Block::Point(depth, lists.last().copied().flatten(), runs)
    };
    for event in Parser::new_ext(text, Options::ENABLE_TABLES) {
        let push = |runs: &mut Vec<Run>, text: &str, code: bool| {
            runs.push(Run {
                text: text.to_owned(),
                strong,
                italic,
                code,
                link: link.clone(),
            });
        };
        match event {
            Event::Text(words) => match &mut code {
                Some(code) => String::push_str(code, &words),
                None => push(&mut runs, &words, false),
            },
            Event::Code(words) => push(&mut runs, &words, true),
            Event::SoftBreak | Event::HardBreak => push(&mut runs, " ", false),
            Event::Start(Tag::Strong) => strong = true,
            Event::End(TagEnd::Strong) => strong = false,
            Event::Start(Tag::Emphasis) => italic = true,
            Event::End(TagEnd::Emphasis) => italic = false,
            Event::Start(Tag::Link { dest_url, .. }) => link = Some(dest_url.to_string()),
            Event::End(TagEnd::Link) => link = None,
            Event::Start(Tag::CodeBlock(_)) => code = Some(String::new()),
            Event::End(TagEnd::CodeBlock) => out.extend(code.take().map(Block::Code)),
            Event::Start(Tag::List(first)) => {
                if in_item && !runs.is_empty() {
                    out.push(point(&mut lists, std::mem::take(&mut runs)));
                }
                lists.push(first);
            }
            Event::End(TagEnd::List(_)) => {
                lists.pop();
            }
            Event::Start(Tag::Item) => in_item = true,
            Event::End(TagEnd::Item) => {
                if !runs.is_empty() {
                    out.push(point(&mut lists, std::mem::take(&mut runs)));
                }
                if let Some(Some(number)) = lists.last_mut() {
                    *number += 1;
                }
            }
            Event::Start(Tag::Table(_)) => table = Some(Vec::new()),
            Event::Start(Tag::TableHead | Tag::TableRow) => {
                if let Some(table) = &mut table {
                    table.push(Vec::new());
                }
            }
            Event::Start(Tag::TableCell) => strong = table.as_ref().is_some_and(|t| t.len() == 1),
            Event::End(TagEnd::TableCell) => {
                strong = false;
                let cell = std::mem::take(&mut runs);
                if let Some(row) = table.as_mut().and_then(|t| t.last_mut()) {
                    row.push(cell);
                }
            }
            Event::End(TagEnd::Table) => out.extend(table.take().map(Block::Table)),
            Event::End(TagEnd::Heading(level)) => {
                let words = runs.drain(..).map(|r| r.text).collect();
                // The title of the page stands above it.
                if level != HeadingLevel::H1 {
                    out.push(Block::Heading(words));
                }
            }
            Event::End(TagEnd::Paragraph) if lists.is_empty() => {
                out.push(Block::Paragraph(std::mem::take(&mut runs)));
            }
            _ => {}
        }
    }
    out
}

/// Draws a page and returns the place of a link that was clicked. A heading to go to is
/// brought into view.
pub(super) fn page(ui: &mut Ui, page: &Page, go_to: Option<&str>) -> Option<HelpPlace> {
    let mut wanted = None;
    for (number, block) in blocks(page.text).iter().enumerate() {
        ui.push_id(number, |ui| match block {
            Block::Heading(words) => {
                ui.add_space(theme::TIGHT);
                let shown = ui.label(theme::heading(words.clone()));
                if go_to == Some(words) {
                    shown.scroll_to_me(Some(egui::Align::TOP));
                }
            }
            Block::Paragraph(words) => {
                runs(ui, words, &mut wanted);
                ui.add_space(theme::TIGHT);
            }
            Block::Point(depth, number, words) => {
                ui.horizontal_top(|ui| {
                    ui.add_space(6.0 + 16.0 * *depth as f32);
                    ui.label(number.map_or_else(|| "•".to_owned(), |n| format!("{n}.")));
                    ui.vertical(|ui| runs(ui, words, &mut wanted));
                });
            }
            Block::Code(text) => {
                let p = theme::palette(ui);
                egui::Frame::new()
                    .fill(p.panel)
                    .corner_radius(4)
                    .inner_margin(6)
                    .show(ui, |ui| {
                        egui::ScrollArea::horizontal().show(ui, |ui| {
                            let text = RichText::new(text.trim_end()).monospace();
                            ui.add(egui::Label::new(text).extend().selectable(true));
                        });
                    });
                ui.add_space(theme::TIGHT);
            }
            Block::Table(rows) => {
                table(ui, rows, &mut wanted);
                ui.add_space(theme::TIGHT);
            }
        });
    }
    wanted
}

fn table(ui: &mut Ui, rows: &[Vec<Vec<Run>>], wanted: &mut Option<HelpPlace>) {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(1).max(1);
    let length = |cell: &Vec<Run>| cell.iter().map(|r| r.text.chars().count()).sum::<usize>();
    // Room in proportion to the longest cell of each column, within reason.
    let longest: Vec<f32> = (0..columns)
        .map(|c| {
            rows.iter()
                .filter_map(|r| r.get(c))
                .map(length)
                .max()
                .unwrap_or(0)
        })
        .map(|l| l.clamp(8, 60) as f32)
        .collect();
    let room = ui.available_width() - 12.0 * columns as f32;
    let sum: f32 = longest.iter().sum();
    egui::Grid::new("table")
        .num_columns(columns)
        .striped(true)
        .spacing([12.0, 4.0])
        .show(ui, |ui| {
            for row in rows {
                for (cell, part) in row.iter().zip(&longest) {
                    ui.vertical(|ui| {
                        ui.set_width(room * part / sum);
                        runs(ui, cell, wanted);
                    });
                }
                ui.end_row();
            }
        });
}

fn runs(ui: &mut Ui, runs: &[Run], wanted: &mut Option<HelpPlace>) {
    // The first line of a paragraph is as high as the others, not as a button.
    ui.spacing_mut().interact_size.y = ui.text_style_height(&egui::TextStyle::Body);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 0.0;
        for run in runs {
            let mut text = if run.strong {
                theme::strong(run.text.clone())
            } else {
                RichText::new(&run.text)
            };
            if run.italic {
                text = text.italics();
            }
            if run.code {
                text = text.monospace();
            }
            match &run.link {
                Some(link) => follow(ui, text, link, wanted),
                None => {
                    ui.label(text);
                }
            }
        }
    });
}

/// A link to another page goes there; one to the web opens there; one to a file of the source
/// is plain text.
fn follow(ui: &mut Ui, text: RichText, link: &str, wanted: &mut Option<HelpPlace>) {
    if link.starts_with("https://") {
        ui.hyperlink_to(text, link);
        return;
    }
    let (file, heading) = link.split_once('#').unwrap_or((link, ""));
    let Some(page) = file.strip_suffix(".md").and_then(Page::of) else {
        ui.label(text);
        return;
    };
    if ui.link(text).clicked() {
        let anchor = |words: &str| words.to_lowercase().replace(' ', "-");
        let heading = page
            .parts()
            .into_iter()
            .filter_map(|(words, _)| words)
            .find(|words| anchor(words) == heading);
        *wanted = Some(HelpPlace {
            page: page.id,
            heading: heading.map(str::to_owned),
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::help::PAGES;

    #[test]
    fn markdown_is_read_into_blocks() {
        let text = "# T\n\nA **b** `c` [d](aim.md).\n\n1. one\n2. two\n   - in\n\n| x | y |\n|---|---|\n| 1 | 2 |\n\n```sh\nrun\n```\n";
        let found = blocks(text);
        let Block::Paragraph(runs) = &found[0] else {
            panic!("{found:?}");
        };
        assert!(runs[1].strong && runs[3].code);
        assert_eq!(runs[5].link.as_deref(), Some("aim.md"));
        assert!(matches!(&found[1], Block::Point(0, Some(1), _)));
        assert!(
            matches!(&found[2], Block::Point(0, Some(2), _)),
            "{found:?}"
        );
        assert!(matches!(&found[3], Block::Point(1, None, _)));
        assert!(matches!(&found[4], Block::Table(rows) if rows.len() == 2));
        assert_eq!(found[5], Block::Code("run\n".to_owned()));
    }

    /// Nothing of a page is lost: every word of the text stands in a block.
    #[test]
    fn no_word_of_a_page_is_lost() {
        for page in PAGES.iter() {
            let all = format!("{:?}", blocks(page.text));
            for event in Parser::new_ext(page.text, Options::ENABLE_TABLES) {
                let (Event::Text(words) | Event::Code(words)) = event else {
                    continue;
                };
                let written = format!("{:?}", &*words);
                let inner = written.trim_matches('"');
                let title = page.title().contains(&*words);
                assert!(title || all.contains(inner), "{}: {words}", page.id);
            }
        }
    }
}
