//! The table of materials. Only the rows in sight are drawn, so its length does not
//! matter.

use std::sync::Arc;

use eframe::egui::{self, Align, Id, Key, Layout, Sense, TextEdit, Ui, WidgetInfo};
use egui_extras::{Column, TableBuilder};
use formulation::file::{material_file, shelf_table};
use formulation::material::{Material, MaterialId};
use formulation::material_draft::MaterialDraft;

use super::Ask;
use super::editor::Editor;
use super::filters::Filters;
use super::usage::SavedFormulas;
use crate::command::{Command, Export};
use crate::state::{ShelfIndex, View};
use crate::theme;
use crate::widgets::fitted::fitted_label;

/// Height of a row in points.
const ROW: f32 = 24.0;
/// Width of a letter of a name on average, in points.
const LETTER: f32 = 7.0;

/// What the materials found depend on, besides the filters.
#[derive(PartialEq)]
struct LookedUp {
    text: String,
    formulas: usize,
    /// State of the stock and the batches.
    books: u64,
    day: formulation::formula::Date,
}

/// What the table keeps between frames.
#[derive(Default)]
pub struct MaterialList {
    text: String,
    filters: Filters,
    found: Vec<MaterialId>,
    /// The cursor is in the search.
    searching: bool,
    /// Enter was pressed in the search: the first found is shown.
    entered: bool,
    /// For what `found` was looked up.
    of: Option<LookedUp>,
    shelf: Option<Arc<ShelfIndex>>,
    /// Whether a material found names its supplier.
    suppliers: bool,
    /// Whether a material found is the maker's own.
    mine: bool,
    /// Letters that nearly all names found have room in.
    letters: usize,
    /// A material to be brought into sight.
    show: Option<MaterialId>,
}

impl MaterialList {
    /// Brings a material into sight with the next frame, if it is listed.
    pub fn show(&mut self, id: MaterialId) {
        self.show = Some(id);
    }

    /// Looks up what fits, if words, filters or shelf have changed.
    fn look_up(&mut self, view: &View<'_>, formulas: &SavedFormulas, changed: bool) {
        let index = view.state.index();
        let books = &view.state.books;
        let now = LookedUp {
            text: self.text.clone(),
            formulas: formulas.all().len(),
            books: books.revision(),
            day: view.state.today(),
        };
        let same_shelf = self.shelf.as_ref().is_some_and(|s| Arc::ptr_eq(s, index));
        if self.of.as_ref() == Some(&now) && same_shelf && !changed {
            return;
        }
        let mut found = index.search(&self.text, usize::MAX);
        let own = view.state.makers_shelf().own();
        if !self.filters.is_none() {
            let holdings = books.stock().holdings(books.usage(), now.day);
            found.retain(|id| {
                view.state
                    .shelf()
                    .get(id)
                    .is_some_and(|m| self.filters.pass(m, own, &holdings, formulas))
            });
        }
        let shelf = view.state.shelf();
        self.letters = most_letters(found.iter().filter_map(|id| shelf.get(id)));
        self.mine = found.iter().any(|id| own.materials.contains_key(id));
        self.suppliers = found
            .iter()
            .filter_map(|id| shelf.get(id))
            .any(|m| m.supplier.is_some());
        self.found = found;
        self.of = Some(now);
        self.shelf = Some(Arc::clone(index));
    }
}

/// So many letters have all names but one in twenty at most.
fn most_letters<'m>(materials: impl Iterator<Item = &'m Arc<Material>>) -> usize {
    let mut letters: Vec<usize> = materials.map(|m| m.name.chars().count()).collect();
    letters.sort_unstable();
    let place = letters.len() * 19 / 20;
    letters.get(place).or(letters.last()).copied().unwrap_or(0)
}

/// Draws the search box, the filters and the table.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    list: &mut MaterialList,
    chosen: Option<&MaterialId>,
    formulas: &SavedFormulas,
    asked: &mut Vec<Ask>,
    commands: &mut Vec<Command>,
) {
    top(ui, view, list, asked, commands);
    let changed = list.filters.ui(ui, formulas);
    list.look_up(view, formulas, changed);
    keys(ui, list, chosen, asked);
    ui.horizontal(|ui| {
        let total = view.state.shelf().len();
        let count = list.found.len();
        ui.label(theme::small(
            ui,
            if count == total {
                format!("{total} materials")
            } else {
                format!("{count} of {total} materials")
            },
        ));
        if let Some(folder) = view.state.makers_shelf().folder() {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                ui.add(
                    egui::Label::new(theme::small(ui, folder.path().display().to_string()))
                        .truncate(),
                )
                .on_hover_text("The folder of your shelf");
            });
        }
    });
    table(ui, view, list, chosen, asked);
}

fn top(
    ui: &mut Ui,
    view: &View<'_>,
    list: &mut MaterialList,
    asked: &mut Vec<Ask>,
    commands: &mut Vec<Command>,
) {
    ui.horizontal(|ui| {
        let buttons = 236.0;
        let width = (ui.available_width() - buttons).max(120.0);
        let search = ui
            .add(
                TextEdit::singleline(&mut list.text)
                    .hint_text("Name, INCI, CAS, role or supplier")
                    .desired_width(width)
                    .min_size(egui::vec2(0.0, theme::FIELD))
                    .margin(egui::Margin::symmetric(6, 3)),
            )
            .accessible_name("Search the shelf");
        list.searching = search.has_focus();
        list.entered = search.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        if ui
            .button("Add…")
            .on_hover_text("Add a raw material of your own")
            .clicked()
        {
            asked.push(Ask::Edit(Box::new(Editor::new(MaterialDraft::default()))));
        }
        if ui
            .button("Bring in…")
            .on_hover_text("Take in a recipe, a price list, materials or another shelf")
            .clicked()
        {
            asked.push(Ask::BringIn);
        }
        ui.menu_button("More", |ui| {
            for (form, ending) in [
                ("CSV", "csv"),
                ("XLSX", "xlsx"),
                ("JSON", "json"),
                ("RON", "ron"),
            ] {
                if ui.button(format!("Save the shelf as {form}…")).clicked() {
                    export(view, list, ending, commands);
                    ui.close();
                }
            }
            ui.separator();
            if ui.button("Folder of the shelf…").clicked() {
                asked.push(Ask::Folder);
                ui.close();
            }
        });
    });
}

/// Saves the materials that are listed.
fn export(view: &View<'_>, list: &MaterialList, ending: &str, commands: &mut Vec<Command>) {
    let listed: Vec<&Arc<Material>> = list
        .found
        .iter()
        .filter_map(|id| view.state.shelf().get(id))
        .collect();
    let bytes = match ending {
        "csv" => shelf_table::csv(listed)
            .map(String::into_bytes)
            .map_err(|e| e.to_string()),
        "xlsx" => shelf_table::xlsx(listed).map_err(|e| e.to_string()),
        "json" => shelf_table::json(listed)
            .map(String::into_bytes)
            .map_err(|e| e.to_string()),
        _ => material_file::write(listed)
            .map(String::into_bytes)
            .map_err(|e| e.to_string()),
    };
    commands.push(match bytes {
        Ok(bytes) => Command::Export(Export {
            title: "Save the materials listed".to_owned(),
            file_name: format!("materials.{ending}"),
            bytes: bytes.into(),
        }),
        Err(problem) => Command::ShowMessage(formulation::finding::Level::Breach, problem),
    });
}

/// Arrow keys go through the table while nothing but the search has the keyboard.
fn keys(ui: &Ui, list: &MaterialList, chosen: Option<&MaterialId>, asked: &mut Vec<Ask>) {
    if let Some(first) = list.found.first().filter(|_| list.entered) {
        asked.push(Ask::Choose(first.clone()));
        return;
    }
    if ui.memory(|m| m.focused().is_some()) && !list.searching {
        return;
    }
    let (down, up) = ui.input(|i| (i.key_pressed(Key::ArrowDown), i.key_pressed(Key::ArrowUp)));
    if !(down || up) {
        return;
    }
    let place = chosen.and_then(|id| list.found.iter().position(|f| f == id));
    let next = match place {
        None => 0,
        Some(place) if down => place + 1,
        Some(place) => place.saturating_sub(1),
    };
    if let Some(id) = list.found.get(next) {
        asked.push(Ask::Choose(id.clone()));
    }
}

/// Widths of the columns, which together fill the table. The last two are there only if
/// a material listed has something to show in them.
struct Columns {
    name: f32,
    inci: f32,
    roles: f32,
    supplier: Option<f32>,
    mine: Option<f32>,
}

impl Columns {
    fn of(ui: &Ui, list: &MaterialList) -> Self {
        let spacing = &ui.spacing();
        let bar = spacing.scroll.bar_width + spacing.scroll.bar_inner_margin + theme::TIGHT;
        let room = ui.available_width() - bar;
        // A narrow table leaves the supplier to the page of the material.
        let supplier = (list.suppliers && room >= 680.0).then_some(110.0);
        let mine = list.mine.then_some(36.0);
        let extra: Vec<f32> = supplier.into_iter().chain(mine).collect();
        let gaps = (2 + extra.len()) as f32 * spacing.item_spacing.x;
        let rest = (room - extra.iter().sum::<f32>() - gaps).max(300.0);
        // The names have the room that they need, within what the others can spare.
        let wanted = LETTER * list.letters as f32;
        let name = wanted.clamp(rest * 0.3, rest * 0.44);
        Self {
            name,
            inci: (rest - name) * 0.55,
            roles: (rest - name) * 0.45,
            supplier,
            mine,
        }
    }

    fn widths(&self) -> impl Iterator<Item = f32> {
        let always = [self.name, self.inci, self.roles];
        always.into_iter().chain(self.supplier).chain(self.mine)
    }

    fn titles(&self) -> impl Iterator<Item = &'static str> {
        let more = [self.supplier.map(|_| "Supplier"), self.mine.map(|_| "Mine")];
        let always = ["Material", "INCI", "Roles"];
        always.into_iter().chain(more.into_iter().flatten())
    }
}

fn table(
    ui: &mut Ui,
    view: &View<'_>,
    list: &mut MaterialList,
    chosen: Option<&MaterialId>,
    asked: &mut Vec<Ask>,
) {
    let own = view.state.makers_shelf().own();
    let columns = Columns::of(ui, list);
    let mut builder = TableBuilder::new(ui)
        .id_salt("materials")
        .striped(false)
        // Of a row only the name is a stop of the Tab key.
        .sense(Sense::CLICK)
        .auto_shrink(false)
        .cell_layout(Layout::left_to_right(Align::Center));
    for width in columns.widths() {
        builder = builder.column(Column::exact(width).clip(true));
    }
    let show = list.show.take();
    if let Some(row) = show.and_then(|id| list.found.iter().position(|f| *f == id)) {
        builder = builder.scroll_to_row(row, None);
    }
    builder
        .header(ROW, |mut header| {
            for title in columns.titles() {
                header.col(|ui| {
                    ui.label(theme::small(ui, title));
                });
            }
        })
        .body(|body| {
            body.rows(ROW, list.found.len(), |mut row| {
                let Some(material) = list
                    .found
                    .get(row.index())
                    .and_then(|id| view.state.shelf().get(id))
                else {
                    return;
                };
                row.set_selected(chosen == Some(&material.id));
                let mut by_name = false;
                row.col(|ui| {
                    let id = Id::unique(("row of the shelf", &material.id));
                    let name = ui.interact(ui.max_rect(), id, Sense::click());
                    name.widget_info(|| {
                        WidgetInfo::selected(
                            egui::Role::Row,
                            true,
                            chosen == Some(&material.id),
                            material.name.as_ref(),
                        )
                    });
                    by_name = name.clicked();
                    fitted_label(ui, &material.name);
                });
                row.col(|ui| {
                    ui.add(egui::Label::new(theme::small(ui, material.inci_line())).truncate());
                });
                row.col(|ui| {
                    let roles: Vec<&str> = material.roles.iter().map(|r| r.label()).collect();
                    ui.add(egui::Label::new(theme::small(ui, roles.join(", "))).truncate());
                });
                if columns.supplier.is_some() {
                    row.col(|ui| {
                        let supplier = material.supplier.as_deref().unwrap_or_default();
                        ui.add(egui::Label::new(theme::small(ui, supplier)).truncate());
                    });
                }
                if columns.mine.is_some() {
                    row.col(|ui| {
                        if own.materials.contains_key(&material.id) {
                            ui.label(theme::small(ui, "yes"));
                        }
                    });
                }
                if row.response().clicked() || by_name {
                    asked.push(Ask::Choose(material.id.clone()));
                }
            });
        });
}
