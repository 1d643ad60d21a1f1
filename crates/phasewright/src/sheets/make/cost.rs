//! What the batch costs, which lines drive it, and the price at a margin.

use eframe::egui::{Grid, Ui};
use egui_plot::{Bar, BarChart, Plot};
use formulation::amount::{Measure, typed};
use formulation::batch::weigh_sheet::WeighSheet;
use formulation::cost::{
    CostInputs, CostKind, CostLine, CostSheet, Labour, Overhead, Packaging, Unpriced, batch_cost,
    cents, margin_at_price, price_at_margin, record_cost,
};
use formulation::finding::Level;
use formulation::quantity::{Currency, Decimal};

use super::{Filled, aside, caution, change_or_remove, choice, entered, field, filled, push};
use crate::command::{BooksCommand, Command};
use crate::state::View;
use crate::theme;
use crate::widgets::choice::choice_row;
use crate::widgets::in_columns::in_columns;
use crate::widgets::refusal::outcome;

/// Width from which the chart stands beside the table, in points.
const TABLE_AND_CHART: f32 = 1300.0;

/// Longest labour of a batch: a year.
const MOST_MINUTES: u32 = 525_600;

/// What is entered besides materials.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
enum Kind {
    #[default]
    Packaging,
    Labour,
    Overhead,
}

impl Kind {
    const ALL: [Self; 3] = [Self::Packaging, Self::Labour, Self::Overhead];
    const fn label(self) -> &'static str {
        match self {
            Self::Packaging => "packaging, for one container",
            Self::Labour => "labour, for an hour",
            Self::Overhead => "overhead, for the batch",
        }
    }
}

/// What the page keeps between frames.
pub struct CostPage {
    of_record: bool,
    /// The costs of all products without their own are shown.
    of_all: bool,
    /// The cost that is being changed.
    changing: Option<Cost>,
    kind: Kind,
    name: String,
    price: String,
    minutes: String,
    margin: String,
    price_asked: String,
}

impl Default for CostPage {
    fn default() -> Self {
        Self {
            of_record: false,
            of_all: false,
            changing: None,
            kind: Kind::Packaging,
            name: String::new(),
            price: String::new(),
            minutes: "60".to_owned(),
            margin: "60".to_owned(),
            price_asked: String::new(),
        }
    }
}

fn decimal(text: &str) -> Result<Decimal, String> {
    typed::decimal(text, &Measure::MONEY).map_err(|e| e.to_string())
}

/// Draws the page; whether to go to the offers of the stock.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut CostPage,
    sheet: Option<&WeighSheet>,
    commands: &mut Vec<Command>,
) -> bool {
    let books = &view.state.books;
    let inputs = books.workshop().costs_of(view.formula.product());
    if books.open_record().is_some() {
        ui.horizontal_wrapped(|ui| {
            let words = |of_record| {
                if of_record {
                    "As weighed in the open batch"
                } else {
                    "As planned"
                }
            };
            let all = &[false, true];
            choice_row(ui, "cost of", &mut page.of_record, all, words, |_| "");
        });
    }
    let cost = match books.open_record().filter(|_| page.of_record) {
        Some(record) => Some(record_cost(record, inputs, books.stock())),
        None => sheet.map(|s| batch_cost(s, inputs, books.stock())),
    };
    let mut to_offers = false;
    match &cost {
        Some(cost) => {
            figures(ui, cost);
            to_offers = no_prices(ui, cost);
            prices(ui, page, cost);
            in_columns(
                ui,
                TABLE_AND_CHART,
                |ui| table(ui, cost),
                |ui| chart(ui, cost),
            );
        }
        None => {
            ui.label("The weigh sheet must be in order first.");
        }
    }
    ui.add_space(theme::GAP);
    entries(ui, view, page, commands);
    to_offers
}

/// Where prices of raw materials are entered, if some are missing. Whether to go there.
fn no_prices(ui: &mut Ui, cost: &CostSheet) -> bool {
    let missing = |line: &CostLine| {
        let unpriced = matches!(
            line.cost,
            Err(Unpriced::NoPrice | Unpriced::NoPriceOfLot(_))
        );
        unpriced && matches!(line.kind, CostKind::Material(_))
    };
    if !cost.lines.iter().any(missing) {
        return false;
    }
    ui.horizontal_wrapped(|ui| {
        ui.label(
            "Prices stand with the lots that came in and the offers of suppliers, in the stock.",
        );
        ui.button("To the offers").clicked()
    })
    .inner
}

fn figures(ui: &mut Ui, cost: &CostSheet) {
    ui.label(theme::heading(format!("Cost of the batch: {cost}")));
    let least = if cost.complete() { "" } else { "at least " };
    let per = |amount: Option<Decimal>, what: &str| {
        let amount = amount.filter(|a| *a > Decimal::ZERO)?;
        Some(format!("{least}{} {} {what}", cents(amount), cost.currency))
    };
    let figures: Vec<String> = [
        per(cost.per_kilogram(), "a kilogram"),
        per(cost.per_container(), "a container"),
    ]
    .into_iter()
    .flatten()
    .collect();
    if !figures.is_empty() {
        ui.label(figures.join(" · "));
    }
    let missing = cost.unknown().count();
    if missing > 0 {
        let lines = if missing == 1 { "line is" } else { "lines are" };
        caution(
            ui,
            Level::Caution,
            format!("{missing} {lines} not counted, for the reason given in the list"),
        );
    }
}

fn prices(ui: &mut Ui, page: &mut CostPage, cost: &CostSheet) {
    let (each, what) = match cost.per_container() {
        Some(each) => (each, "a container"),
        None => match cost.per_kilogram() {
            Some(each) => (each, "a kilogram"),
            None => return,
        },
    };
    if each <= Decimal::ZERO {
        return;
    }
    let currency = cost.currency;
    ui.horizontal_wrapped(|ui| {
        field(ui, "Margin wanted, % of the price", &mut page.margin, 60.0);
        let price =
            decimal(&page.margin).and_then(|m| price_at_margin(each, m).map_err(|e| e.to_string()));
        let words = price.map_or_else(
            |problem| problem,
            |price| {
                format!(
                    "needs a price of {} {currency} {what}, without tax",
                    cents(price)
                )
            },
        );
        aside(ui, &words);
        field(ui, "Price asked, without tax", &mut page.price_asked, 80.0);
        if !page.price_asked.trim().is_empty() {
            let margin = decimal(&page.price_asked)
                .and_then(|p| margin_at_price(each, p).map_err(|e| e.to_string()));
            let most = if cost.complete() { "" } else { "at most " };
            match margin {
                Ok(margin) if margin < Decimal::ZERO => {
                    caution(
                        ui,
                        Level::Caution,
                        format!("a loss: leaves {most}{margin} %"),
                    );
                }
                Ok(margin) => aside(ui, &format!("leaves {most}{margin} %")),
                Err(problem) => aside(ui, &problem),
            }
        }
    });
    if !cost.complete() {
        ui.label(theme::small(
            ui,
            "Prices are missing, so the cost is at least this, and the price too low.",
        ));
    }
}

fn chart(ui: &mut Ui, cost: &CostSheet) {
    /// Lines shown; the rest is small.
    const SHOWN: usize = 12;
    let drivers: Vec<_> = cost.drivers().into_iter().take(SHOWN).collect();
    if drivers.is_empty() {
        return;
    }
    ui.add_space(theme::TIGHT);
    ui.label(theme::strong("What drives it, % of the known cost"));
    let p = theme::palette(ui);
    let count = drivers.len();
    let names: Vec<String> = drivers.iter().map(|(l, _)| l.name.to_string()).collect();
    let bars = drivers
        .iter()
        .enumerate()
        .map(|(i, (line, share))| {
            let value = f64::try_from(*share).unwrap_or_default();
            Bar::new((count - i) as f64, value)
                .width(0.7)
                .name(line.name.as_ref())
                .fill(p.accent)
        })
        .collect();
    let chart = BarChart::new("share of the cost", bars)
        .horizontal()
        .color(p.accent);
    Plot::new("cost drivers")
        .height(26.0 * count as f32 + 30.0)
        .width(ui.available_width().min(760.0))
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .show_grid([true, false])
        .y_axis_min_width(230.0)
        .y_axis_formatter(move |mark, _| {
            let place = count as f64 - mark.value;
            let near = (place - place.round()).abs() < 1e-6 && place > -0.5;
            near.then(|| names.get(place.round() as usize).cloned())
                .flatten()
                .map(|n| shortened(&n))
                .unwrap_or_default()
        })
        .y_grid_spacer(move |_| {
            (1..=count)
                .map(|i| egui_plot::GridMark {
                    value: i as f64,
                    step_size: 1.0,
                })
                .collect()
        })
        .show(ui, |plot| plot.bar_chart(chart));
}

fn shortened(name: &str) -> String {
    const MOST: usize = 32;
    if name.chars().count() <= MOST {
        return name.to_owned();
    }
    let kept: String = name.chars().take(MOST - 1).collect();
    format!("{kept}…")
}

fn table(ui: &mut Ui, cost: &CostSheet) {
    Grid::new("cost")
        .num_columns(3)
        .spacing([theme::GAP, theme::TIGHT])
        .striped(true)
        .show(ui, |ui| {
            for line in &cost.lines {
                ui.label(line.name.as_ref());
                ui.label(match line.kind {
                    CostKind::Material(_) => {
                        line.mass.map_or_else(String::new, |m| format!("{m} g"))
                    }
                    CostKind::Packaging if cost.containers == 0 => "packaging".to_owned(),
                    CostKind::Packaging => format!("for {} containers", cost.containers),
                    CostKind::Labour => "labour".to_owned(),
                    CostKind::Overhead => "overhead".to_owned(),
                });
                match &line.cost {
                    Ok(cost_of) => {
                        let from = line.price_from.as_ref();
                        let from = from.map_or_else(String::new, |f| format!(", priced {f}"));
                        ui.label(format!("{cost_of:.4} {}{from}", cost.currency))
                    }
                    Err(why) => {
                        let colour = theme::palette(ui).level(Level::Caution);
                        ui.colored_label(colour, format!("not counted: {why}"))
                    }
                };
                ui.end_row();
            }
        });
}

/// One cost, of whatever kind.
#[derive(Clone, PartialEq)]
enum Cost {
    Packaging(Packaging),
    Labour(Labour),
    Overhead(Overhead),
}

impl Cost {
    /// All of them, kind by kind.
    fn all(costs: &CostInputs) -> Vec<Self> {
        let packaging = costs.packaging.iter().cloned().map(Self::Packaging);
        let labour = costs.labour.iter().cloned().map(Self::Labour);
        let overhead = costs.overhead.iter().cloned().map(Self::Overhead);
        packaging.chain(labour).chain(overhead).collect()
    }

    /// What it is and costs.
    fn words(&self, currency: Currency) -> String {
        let words = |price: Option<Decimal>| {
            price.map_or_else(
                || "price not known".to_owned(),
                |price| format!("{price} {currency}"),
            )
        };
        match self {
            Self::Packaging(p) => {
                format!("{}: {} for one container", p.name, words(p.per_container))
            }
            Self::Labour(l) => format!(
                "{}: {} minutes at {} an hour",
                l.name,
                l.minutes,
                words(l.per_hour)
            ),
            Self::Overhead(o) => format!("{}: {} for the batch", o.name, words(o.per_batch)),
        }
    }

    /// Puts it into the fields.
    fn fill(&self, page: &mut CostPage) {
        let (kind, name, price) = match self {
            Self::Packaging(p) => (Kind::Packaging, &p.name, p.per_container),
            Self::Labour(l) => {
                page.minutes = l.minutes.to_string();
                (Kind::Labour, &l.name, l.per_hour)
            }
            Self::Overhead(o) => (Kind::Overhead, &o.name, o.per_batch),
        };
        page.kind = kind;
        page.name = name.to_string();
        page.price = price.map(|p| p.to_string()).unwrap_or_default();
    }

    /// Takes it out; where it stood among those of its kind.
    fn remove(&self, costs: &mut CostInputs) -> Option<usize> {
        fn out<T: PartialEq>(list: &mut Vec<T>, one: &T) -> Option<usize> {
            let place = list.iter().position(|known| known == one)?;
            list.remove(place);
            Some(place)
        }
        match self {
            Self::Packaging(one) => out(&mut costs.packaging, one),
            Self::Labour(one) => out(&mut costs.labour, one),
            Self::Overhead(one) => out(&mut costs.overhead, one),
        }
    }

    /// Puts it in, at a place where there is one.
    fn put(self, costs: &mut CostInputs, place: Option<usize>) {
        fn into<T>(list: &mut Vec<T>, one: T, place: Option<usize>) {
            list.insert(place.map_or(list.len(), |place| place.min(list.len())), one);
        }
        match self {
            Self::Packaging(one) => into(&mut costs.packaging, one, place),
            Self::Labour(one) => into(&mut costs.labour, one, place),
            Self::Overhead(one) => into(&mut costs.overhead, one, place),
        }
    }
}

fn entries(ui: &mut Ui, view: &View<'_>, page: &mut CostPage, commands: &mut Vec<Command>) {
    let books = &view.state.books;
    let product = view.formula.product();
    let currency = books.stock().home;
    let mut workshop = books.workshop().clone();
    let of_all = page.of_all;
    whose(ui, view, page);
    if page.of_all != of_all {
        page.changing = None;
    }
    let own = workshop.products.get(product);
    let has_own = own.is_some_and(|p| p.costs.is_some());
    let mut costs = if page.of_all {
        workshop.costs.clone()
    } else {
        workshop.costs_of(product).clone()
    };
    if page.of_all {
        ui.label(theme::small(
            ui,
            "They count in every product that has no costs of its own.",
        ));
    } else if !has_own && costs != CostInputs::default() {
        ui.label(theme::small(
            ui,
            "As of all products; the first change here makes them costs of its own.",
        ));
    }
    let mut changed = listed(ui, page, &mut costs, currency);
    changed |= new_cost(ui, page, &mut costs, currency);
    let mut as_all = false;
    if !page.of_all && has_own {
        let words = "Take the costs of all products for this one";
        as_all = ui.button(words).on_hover_text("Its own costs go").clicked();
    }
    if !changed && !as_all {
        return;
    }
    if page.of_all {
        workshop.costs = costs;
    } else {
        let habits = workshop.products.entry(product.clone()).or_default();
        habits.costs = (!as_all).then_some(costs);
    }
    push(
        commands,
        BooksCommand::SetStock(Box::new((books.stock().clone(), workshop))),
    );
}

/// Whose costs are shown: those of the product, or of all that have none of their own.
fn whose(ui: &mut Ui, view: &View<'_>, page: &mut CostPage) {
    let name = &view.formula.name;
    ui.label(theme::strong(if page.of_all {
        "Packaging, labour and overhead of all products".to_owned()
    } else {
        format!("Packaging, labour and overhead of {name}")
    }));
    ui.horizontal_wrapped(|ui| {
        let words = |of_all| {
            if of_all {
                "All products"
            } else {
                "This product"
            }
        };
        let all = &[false, true];
        choice_row(ui, "costs of whom", &mut page.of_all, all, words, |_| "");
    });
}

/// The costs entered; whether one was removed.
fn listed(ui: &mut Ui, page: &mut CostPage, costs: &mut CostInputs, currency: Currency) -> bool {
    let all = Cost::all(costs);
    page.changing.take_if(|cost| !all.contains(cost));
    let mut remove = None;
    for cost in all {
        ui.horizontal(|ui| {
            let words = cost.words(currency);
            ui.label(&words);
            match change_or_remove(ui, &words, true) {
                Some(true) => {
                    cost.fill(page);
                    page.changing = Some(cost);
                }
                Some(false) => remove = Some(cost),
                None => {}
            }
        });
    }
    remove.is_some_and(|cost| cost.remove(costs).is_some())
}

/// The fields of a cost that is added or changed; whether it was.
fn new_cost(ui: &mut Ui, page: &mut CostPage, costs: &mut CostInputs, currency: Currency) -> bool {
    let mut came = None;
    ui.horizontal_wrapped(|ui| {
        choice(
            ui,
            "Kind of cost",
            &mut page.kind,
            &Kind::ALL,
            |k| k.label().to_owned(),
            240.0,
        );
        let price = format!("Price in {currency}, empty if unknown");
        let mut fields = vec![
            field(ui, "What for", &mut page.name, 160.0),
            field(ui, &price, &mut page.price, 90.0),
        ];
        if page.kind == Kind::Labour {
            fields.push(field(ui, "Minutes", &mut page.minutes, 60.0));
        }
        let asked = filled(ui, "cost", page.changing.is_some());
        if asked.is_some()
            && let Some(first) = fields.first()
        {
            // The list above grows, and the fields stay in sight.
            first.request_focus();
        }
        if asked == Some(Filled::Left) {
            page.changing = None;
            page.name.clear();
            page.price.clear();
        } else if asked.is_some() || entered(ui, &fields) {
            came = Some(read(page).map(|cost| {
                let old = page.changing.take();
                let same =
                    |old: &Cost| std::mem::discriminant(old) == std::mem::discriminant(&cost);
                let is_same = old.as_ref().is_some_and(same);
                let place = old.and_then(|old| old.remove(costs));
                cost.put(costs, place.filter(|_| is_same));
            }));
        }
    });
    let typed = [&page.name, &page.price, &page.minutes].map(String::clone);
    let taken = outcome(ui, "new cost", &typed, came);
    if taken {
        // The price of one cost is not that of the next.
        page.name.clear();
        page.price.clear();
    }
    taken
}

/// The cost as typed.
fn read(page: &CostPage) -> Result<Cost, String> {
    let name = page.name.trim();
    if name.is_empty() {
        return Err("Type what the cost is for".to_owned());
    }
    let price = if page.price.trim().is_empty() {
        None
    } else {
        Some(decimal(&page.price)?)
    };
    Ok(match page.kind {
        Kind::Packaging => Cost::Packaging(Packaging {
            name: name.into(),
            per_container: price,
        }),
        Kind::Labour => Cost::Labour(Labour {
            name: name.into(),
            minutes: typed::count(&page.minutes, "a number of minutes", MOST_MINUTES)
                .map_err(|e| e.to_string())?,
            per_hour: price,
        }),
        Kind::Overhead => Cost::Overhead(Overhead {
            name: name.into(),
            per_batch: price,
        }),
    })
}
