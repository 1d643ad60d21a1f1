//! Which recipes a file holds: one or several on a sheet, one on each of several sheets,
//! versions beside each other, one recipe in several tables of a page.

mod abreast;
mod below;
mod joined;
mod titled;
mod turned;
mod whole;

use super::choose::weigh;
use super::columns::{ColumnKind, Layout};
use super::weighing::sides::{self, Reading as Side};
use super::{Cell, Table, beside, codes, ditto, items, parted, realigned, running, stacked};
use abreast::beside_each_other;
use below::{below_headings, below_totals};
use joined::joined;
use titled::below_titles;
use turned::{sides_seen, turned};
pub(super) use whole::{is_whole, whole};

/// A recipe found in a file, not read yet.
#[derive(Clone, PartialEq, Debug)]
pub struct RecipeSection {
    /// What it is called in a choice: sheet, title or heading of its column.
    pub name: String,
    /// Name of its sheet; empty for a text.
    pub sheet: String,
    /// The table with everything else masked, so that cells keep their names.
    pub table: Table,
    /// What its columns mean, where that is not as recognised.
    pub layout: Option<Layout>,
    /// A version of the section before it: the same lines with other percentages.
    pub version: bool,
    /// On the sheet that was shown last.
    pub active: bool,
}

impl RecipeSection {
    /// A sheet as one recipe.
    pub fn whole(table: &Table) -> Self {
        Self {
            name: table.name.clone(),
            sheet: table.name.clone(),
            table: table.clone(),
            layout: None,
            version: false,
            active: true,
        }
    }

    /// Its name, else that of its sheet.
    pub fn title(&self) -> &str {
        if self.name.is_empty() {
            &self.sheet
        } else {
            &self.name
        }
    }
}

/// What a file holds.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct FoundRecipes {
    /// Its recipes, in order.
    pub sections: Vec<RecipeSection>,
    /// The places of tables that are seen and hold no recipe.
    pub without: Vec<usize>,
}

/// The recipes of a file, in order; none if no table has names and amounts.
pub fn sections(tables: &[Table]) -> Vec<RecipeSection> {
    found_in(tables).sections
}

/// The recipes of a file, and the tables that hold none.
pub fn found_in(all: &[Table]) -> FoundRecipes {
    let spelt = codes::spelt_out(all);
    let all = spelt.as_deref().unwrap_or(all);
    let joined = joined(all);
    let tables = joined
        .as_ref()
        .map_or(all, |(joined, _)| std::slice::from_ref(joined));
    let mut found = Vec::new();
    let mut without = joined
        .as_ref()
        .map_or_else(Vec::new, |(_, without)| without.clone());
    for (place, table) in tables.iter().enumerate() {
        if table.hidden || is_constituents(table) {
            continue;
        }
        let before = found.len();
        for (name, part) in parts(table) {
            let Some(weighing) = weigh(&part) else {
                continue;
            };
            // A sheet of words is no recipe among others.
            if tables.len() > 1 && !has_amounts(&part, &weighing.layout) {
                continue;
            }
            let active = table.active || tables.len() == 1;
            let versions = weighing.versions.clone();
            found.push(RecipeSection {
                name: name.clone(),
                sheet: table.name.clone(),
                table: part.clone(),
                layout: None,
                version: false,
                active,
            });
            for column in versions {
                let mut layout = weighing.layout.clone();
                assign_amounts_beside(&part, column, &mut layout);
                layout.assign_version(column);
                let heading = weighing.layout.heading(&part, column);
                found.push(RecipeSection {
                    name: heading,
                    sheet: table.name.clone(),
                    table: part.clone(),
                    layout: Some(layout),
                    version: true,
                    active,
                });
            }
            // The first of several versions is called by its heading too.
            if !weighing.versions.is_empty()
                && let Some(at) = weighing.layout.measure()
            {
                let count = weighing.versions.len();
                let place = found.len().saturating_sub(count + 1);
                if let Some(first) = found.get_mut(place) {
                    first.name = weighing.layout.heading(&part, at);
                }
            }
        }
        if found.len() == before && !table.is_empty() {
            without.push(place);
        }
    }
    FoundRecipes {
        sections: found,
        without,
    }
}

/// Takes the amounts that stand beside the percentages of a version as they do beside those of
/// the first, under the same heading.
fn assign_amounts_beside(table: &Table, version: usize, layout: &mut Layout) {
    let (Some(percent), Some(amount)) = (
        layout.place(ColumnKind::Percent),
        layout.place(ColumnKind::Amount),
    ) else {
        return;
    };
    let Some(column) = (version + amount).checked_sub(percent) else {
        return;
    };
    let heading = layout.heading(table, amount);
    if column != amount && !heading.is_empty() && layout.heading(table, column) == heading {
        layout.assign(column, Some(ColumnKind::Amount));
    }
}

/// Whether a table has a number or an amount anywhere a recipe has them.
fn has_amounts(table: &Table, layout: &Layout) -> bool {
    let columns = [ColumnKind::Percent, ColumnKind::Amount].map(|kind| layout.place(kind));
    let in_text = columns == [None, None];
    if in_text && super::recipe::bare_numbers_are_whole(table) {
        return true;
    }
    (layout.first_row()..table.rows.len()).any(|row| {
        let in_column = columns
            .iter()
            .flatten()
            .any(|&c| !table.cell(row, c).is_empty());
        let items = || items::items(&table.row_text(row), None, false);
        in_column || in_text && !items().lines.is_empty()
    })
}

/// The sheet of constituents that our own workbook has beside each variant.
fn is_constituents(table: &Table) -> bool {
    (0..table.width()).any(|c| table.cell(0, c).words() == "Counted as")
}

/// A table of which no column was recognised, each row as a line of text, if enough of the lines
/// hold a material and an amount; `None` if not.
fn in_lines(table: &Table) -> Option<Table> {
    /// Fewer lines may be anything.
    const ENOUGH: usize = 3;
    let is_item = |row: &usize| items::items(&table.row_text(*row), None, false).lines.len() == 1;
    let count = (0..table.rows.len()).filter(is_item).count();
    if table.width() < 2 || count < ENOUGH {
        return None;
    }
    let mut lines = table.clone();
    for (row, cells) in lines.rows.iter_mut().enumerate() {
        let text = table.row_text(row);
        *cells = if text.is_empty() {
            Vec::new()
        } else {
            vec![Cell::Text(text)]
        };
    }
    lines.struck.clear();
    lines.struck_words.clear();
    lines
        .said
        .push("no columns were recognised; each row was read as a line of text".to_owned());
    Some(lines)
}

/// The recipes of one sheet: below each other with headings of their own, each a whole,
/// or beside each other.
fn parts(table: &Table) -> Vec<(String, Table)> {
    let unstacked = stacked::in_rows(table);
    let table = unstacked.as_ref().unwrap_or(table);
    let repeated = ditto::filled(table);
    let table = repeated.as_ref().unwrap_or(table);
    let apart = running::told_apart(table);
    let table = apart.as_ref().unwrap_or(table);
    let in_rows = beside::in_rows(table)
        .or_else(|| beside::of_phases(table))
        .or_else(|| beside::of_titled_phases(table));
    let table = in_rows.as_ref().unwrap_or(table);
    if sides::weigh(sides_seen(table)).best == Side::Columns {
        let turned = turned(table);
        if !turned.is_empty() {
            return turned;
        }
    }
    let Some(weighing) = weigh(table) else {
        let turned = turned(table);
        return if turned.is_empty() {
            in_lines(table).map_or_else(Vec::new, |lines| vec![(table.name.clone(), lines)])
        } else {
            turned
        };
    };
    let aligned = realigned::below_first_headings(table, &weighing.layout);
    let table = aligned.as_ref().unwrap_or(table);
    let joined = parted::in_one_list(table, &weighing.layout);
    let weighing = joined.as_ref().and_then(weigh).unwrap_or(weighing);
    let table = joined.as_ref().unwrap_or(table);
    let whole_table = || vec![(table.name.clone(), table.clone())];
    let Some(headings) = weighing.layout.headings else {
        let amounts =
            [ColumnKind::Percent, ColumnKind::Amount].map(|kind| weighing.layout.place(kind));
        let titled = (amounts == [None, None])
            .then(|| below_titles(table))
            .flatten();
        return titled.unwrap_or_else(whole_table);
    };
    if let Some(beside) = beside_each_other(table, headings) {
        // Below each of them others may stand, as cards in a grid.
        let below = |(name, part): (String, Table)| {
            let lists = if part.done.len() > table.done.len() {
                Vec::new()
            } else {
                parts(&part)
            };
            if lists.len() > 1 {
                lists
            } else {
                vec![(name, part)]
            }
        };
        let mut lists: Vec<(String, Table)> = beside.into_iter().flat_map(below).collect();
        // From the top, and those that begin in the same row from the left.
        lists.sort_by_key(|(_, part)| {
            let filled = |cells: &Vec<Cell>| cells.iter().any(|cell| !cell.is_empty());
            part.rows.iter().position(filled)
        });
        return lists;
    }
    below_headings(table, &weighing, headings)
        .or_else(|| below_totals(table, &weighing))
        .unwrap_or_else(whole_table)
}

#[cfg(test)]
mod tests {
    use super::super::read_text;
    use super::*;

    fn names(text: &str) -> Vec<String> {
        sections(&read_text(text).unwrap())
            .into_iter()
            .map(|s| s.name)
            .collect()
    }

    #[test]
    fn recipes_below_and_beside_each_other() {
        assert_eq!(names("Ingredient;%\nWater;95\nGlycerin;5\n"), [""]);
        assert_eq!(
            names(
                "Moss gel;\nIngredient;%\nWater;95\nGlycerin;5\n;\nOat gel;\nIngredient;%\nWater;90\nGlycerin;10\n"
            ),
            ["Moss gel", "Oat gel"]
        );
        // One recipe with the headings repeated for each phase.
        assert_eq!(
            names(
                "Phase A;\nIngredient;%\nWater;70\nGlycerin;5\n;\nPhase B;\nIngredient;%\nOil;20\nWax;5\n"
            ),
            [""]
        );
        assert_eq!(
            names(
                "One;;;Two;\nIngredient;%;;Ingredient;%\nWater;95;;Water;90\nGlycerin;5;;Glycerin;10\n"
            ),
            ["One", "Two"]
        );
        assert_eq!(
            names("Ingredient;V1 %;V2 %\nWater;95;90\nGlycerin;5;10\n"),
            ["V1 %", "V2 %"]
        );
        assert_eq!(
            names("Ingredient;%;Max. use %\nWater;95;100\nGlycerin;5;10\n"),
            [""]
        );
    }

    /// The second list has more headings that are known, and the first is no less a list.
    #[test]
    fn lists_headed_in_several_languages_are_both_read() {
        let text = "Fase;Item no.;Råvare;Active %;Procentdel;Bemærkning\nA;LM-1;Water;;95;\nB;LM-2;Glycerin;99;5;\n;;;;;\nFase;Code;Matéria-prima;Active %;Percentage;Note\nA;LM-1;Water;;90;\nB;LM-2;Olive oil;100;10;\n";
        assert_eq!(names(text).len(), 2);
    }

    /// "Version | 3" is a fact beside others, and all of them head the second list.
    #[test]
    fn facts_above_the_second_list_are_its_own() {
        let text = "One, 1500 g;;\nVersion;3;\npH;5.5;\n;;\nPhase;Ingredient;%\nA;Water;95\nA;Glycerin;5\n;Total;100\n;;\nTwo (500 g);;\nVersion;3;\npH;5.5;\n;;\nPhase;Ingredient;%\nA;Water;90\nA;Glycerin;10\n;Total;100\n";
        assert_eq!(names(text), ["One, 1500 g", "Two (500 g)"]);
    }

    #[test]
    fn cards_in_a_grid_are_recipes_of_their_own() {
        let text = "One;;;Two;\nIngredient;%;;Ingredient;%\nWater;95;;Water;90\nGlycerin;5;;Glycerin;10\n;;;;\nThree;;;Four;\nIngredient;%;;Ingredient;%\nOlive oil;80;;Olive oil;70\nBeeswax;20;;Beeswax;30\n";
        assert_eq!(names(text), ["One", "Two", "Three", "Four"]);
    }

    /// The second version says "dto." where it is as the first.
    #[test]
    fn versions_that_repeat_a_number_in_a_word_are_whole() {
        let text = "Salbe;Version 1 (%);Version 2 (%)\nBienenwachs;20;dto.\nOlivenöl;50;45\nKakaobutter;30;35\n";
        let found = sections(&read_text(text).unwrap());
        assert_eq!(found.len(), 2);
        assert!(found[0].table.said[0].contains("C2"));
        assert_eq!(found[1].table.cell(1, 2).words(), "20");
    }

    /// The size of the batch alone heads the amounts of the second list.
    #[test]
    fn lists_for_batches_of_other_sizes_are_recipes_of_their_own() {
        let two = |first: &str, second: &str| {
            format!(
                "One;\nIngredient;{first}\nWater;475\nGlycerin;25\n;\nTwo;\nIngredient;{second}\nWater;900\nOlive oil;100\n"
            )
        };
        for (first, second) in [
            ("500 g", "1000 g"),
            ("g / 500 g", "g / 1000 g"),
            ("Amount (g)", "1000 g"),
            ("g / 500 g", "1 kg"),
        ] {
            assert_eq!(
                names(&two(first, second)),
                ["One", "Two"],
                "{first} {second}"
            );
        }
        // Of the same size the second may go on with the first.
        let goes_on = "Phase A;\nIngredient;g / 500 g\nWater;350\nGlycerin;50\n;\nPhase B;\nIngredient;g / 500 g\nOlive oil;100\n";
        assert_eq!(names(goes_on), [""]);
    }

    #[test]
    fn lists_beside_each_other_keep_what_stands_left_of_their_names() {
        let text = "No;;Ingredient;;%;;No;;Ingredient;;%\n1;;Water;;95;;1;;Water;;90\n2;;Glycerin;;5;;2;;Olive oil;;10\n";
        let found = sections(&read_text(text).unwrap());
        assert_eq!(found.len(), 2);
        assert_eq!(found[1].table.cell(1, 6).words(), "1");
        assert!(found[0].table.cell(1, 6).is_empty());
    }

    #[test]
    fn tables_of_a_page_are_one_recipe_if_only_together_they_are_whole() {
        let page = "<h3>A</h3><table><tr><th>Ingredient<th>%<tr><td>Water<td>70</table><h3>B</h3><table><tr><th>Ingredient<th>%<tr><td>Oil<td>30</table>";
        assert_eq!(names(page).len(), 1);
        let two = "<table><tr><th>Ingredient<th>%<tr><td>Water<td>100</table><table><tr><th>Ingredient<th>%<tr><td>Oil<td>100</table>";
        assert_eq!(names(two).len(), 2);
    }
}
