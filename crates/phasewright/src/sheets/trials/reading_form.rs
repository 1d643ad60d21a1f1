//! The fields of a reading, as typed.

use eframe::egui::{ComboBox, Key, Response, Ui};
use formulation::trial::bench::flow_cup::CUPS;
use formulation::trial::challenge::organisms;
use formulation::trial::draft::{ReadingDraft, ReadingField};
use formulation::trial::reading::{Quantity, Reading, ReadingValue, Sample};

use crate::sheets::make::{choice, field, labelled};

/// A reading as it is typed.
pub struct ReadingForm {
    pub draft: ReadingDraft,
    /// Values as typed, separated by semicolons.
    pub values: String,
}

impl Default for ReadingForm {
    fn default() -> Self {
        Self {
            draft: ReadingDraft::of(Quantity::Viscosity),
            values: String::new(),
        }
    }
}

impl ReadingForm {
    /// Empties what belongs to one reading and keeps how it is read.
    pub fn clear(&mut self) {
        self.values.clear();
        for one in [
            ReadingField::Remark,
            ReadingField::Photo,
            ReadingField::Hours,
        ] {
            self.draft.fields.remove(&one);
        }
        self.draft.sample = None;
    }

    /// The reading that is meant.
    pub fn reading(&mut self) -> Result<Reading, String> {
        self.draft.values = ReadingDraft::split(&self.values);
        self.draft.reading().map_err(|e| e.to_string())
    }

    /// The same quantity and method as a reading that was noted, to correct it.
    pub fn of(reading: &Reading) -> Self {
        let mut form = Self {
            draft: ReadingDraft::of_reading(reading),
            values: String::new(),
        };
        form.values = match &reading.value {
            ReadingValue::Word(_) => form.draft.values.first().cloned().unwrap_or_default(),
            _ => form.draft.values.join("; "),
        };
        form
    }

    /// Draws the fields; whether the value was typed and Return pressed. `fixed` is the
    /// quantity where it may not be changed.
    pub fn ui(
        &mut self,
        ui: &mut Ui,
        salt: &str,
        fixed: bool,
        samples: &[(Sample, String)],
    ) -> bool {
        let mut entered = false;
        ui.push_id(salt, |ui| {
            ui.horizontal_wrapped(|ui| {
                let before = self.draft.quantity;
                ui.add_enabled_ui(!fixed, |ui| {
                    choice(
                        ui,
                        "What is read",
                        &mut self.draft.quantity,
                        &Quantity::ALL,
                        |q| q.label().to_owned(),
                        150.0,
                    );
                });
                if before != self.draft.quantity {
                    self.values.clear();
                    let ways = self.draft.quantity.methods();
                    if !ways.contains(&self.draft.method) {
                        self.draft.method = ways.first().copied().unwrap_or_default();
                    }
                }
                let ways = self.draft.quantity.methods();
                if ways.len() > 1 {
                    let before = self.draft.method;
                    choice(
                        ui,
                        "How",
                        &mut self.draft.method,
                        ways,
                        |m| m.label().to_owned(),
                        160.0,
                    );
                    if before != self.draft.method {
                        for left in before.fields() {
                            self.draft.fields.remove(left);
                        }
                    }
                }
                entered = self.value(ui);
                for of in self.draft.method.fields() {
                    self.field(ui, *of);
                }
            });
            ui.horizontal_wrapped(|ui| {
                for of in [
                    ReadingField::Celsius,
                    ReadingField::Hours,
                    ReadingField::Remark,
                    ReadingField::Photo,
                ] {
                    self.field(ui, of);
                }
                if !samples.is_empty() {
                    self.sample(ui, samples);
                }
            });
        });
        entered
    }

    fn value(&mut self, ui: &mut Ui) -> bool {
        let words = self.draft.quantity.words();
        if words.is_empty() {
            let measure = self
                .draft
                .method
                .raw()
                .unwrap_or(self.draft.quantity.measure());
            let label = match (self.draft.quantity, measure.unit) {
                (Quantity::Colour, _) => "Value: L*; a*; b*".to_owned(),
                (_, "") => "Value, more after ;".to_owned(),
                (_, unit) => format!("Value in {unit}, more after ;"),
            };
            let typed = field(ui, &label, &mut self.values, 170.0);
            entered(ui, &typed)
        } else {
            pick(
                ui,
                ReadingField::Value.label(),
                &mut self.values,
                words,
                150.0,
            );
            false
        }
    }

    fn field(&mut self, ui: &mut Ui, of: ReadingField) {
        let text = self.draft.fields.entry(of).or_default();
        match of {
            ReadingField::Cup => {
                let names: Vec<&str> = CUPS.iter().map(|c| c.name).collect();
                pick(ui, of.label(), text, &names, 150.0);
            }
            ReadingField::Organism => {
                let names: Vec<&str> = organisms().iter().map(|o| o.name).collect();
                pick(ui, of.label(), text, &names, 190.0);
            }
            _ => {
                let width = match of {
                    ReadingField::Remark | ReadingField::Calibration => 260.0,
                    ReadingField::Instrument | ReadingField::Photo | ReadingField::OwnName => 160.0,
                    _ => 96.0,
                };
                let response = field(ui, of.label(), text, width);
                if of == ReadingField::Hours {
                    response.on_hover_text(
                        "Since it was made or, on a step, since its addition. For example 24 h or 15 min",
                    );
                } else if !of.hint().is_empty() {
                    response.on_hover_text(format!("For example {}", of.hint()));
                }
            }
        }
    }

    fn sample(&mut self, ui: &mut Ui, samples: &[(Sample, String)]) {
        labelled(ui, "Sample of a plan", 200.0, |ui, _| {
            let words = |sample: Option<Sample>| {
                samples
                    .iter()
                    .find(|(s, _)| Some(*s) == sample)
                    .map_or("none", |(_, words)| words.as_str())
            };
            ComboBox::from_id_salt("sample")
                .selected_text(words(self.draft.sample))
                .width(200.0)
                .truncate()
                .show_ui(ui, |ui| {
                    ui.selectable_value(&mut self.draft.sample, None, "none");
                    for (sample, words) in samples {
                        ui.selectable_value(&mut self.draft.sample, Some(*sample), words);
                    }
                })
                .response
                .accessible_name("Sample of a plan");
        });
    }
}

/// Whether Return was pressed in a field, which keeps the cursor for the next one of its kind.
pub fn entered(ui: &Ui, field: &Response) -> bool {
    let entered = field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
    if entered {
        field.request_focus();
    }
    entered
}

/// One of some words.
fn pick(ui: &mut Ui, label: &str, value: &mut String, words: &[&str], width: f32) {
    labelled(ui, label, width, |ui, _| {
        let shown = if value.is_empty() {
            "choose"
        } else {
            value.as_str()
        };
        ComboBox::from_id_salt(label)
            .selected_text(shown)
            .width(width)
            .truncate()
            .show_ui(ui, |ui| {
                for word in words {
                    if ui.selectable_label(value == word, *word).clicked() {
                        (*word).clone_into(value);
                    }
                }
            })
            .response
            .accessible_name(label);
    });
}
