//! The table of the values of a material: what each is called, counted in and may be, and one
//! way to read and to write them all.
//!
//! A field of [`Material`] that is one figure, or a low and a high, is one line of
//! `figure_fields!` and one row of [`MaterialValue::row`]; files, drafts, lists of changes, merging
//! and the window go over the table and name none by itself.

use super::source::{Source, Sourced};
use super::{Material, NaturalOrigin};
use crate::amount::measure::tidy;
use crate::quantity::{
    MassDensity, PhRange, Temperature, celsius, celsius_decimal, in_kg_per_m3, kg_per_m3,
};

/// The fields of [`Material`] that are figures, each after the name of its value: whatever must
/// name them all is made of this list.
macro_rules! figure_fields {
    ($make:ident! $given:tt) => {
        $make! { $given
            PhWindow ph_window,
            MaxTemperature max_temperature,
            Density density,
            Hlb hlb,
            RequiredHlb required_hlb,
            NaturalOrigin natural_origin,
        }
    };
}
pub(crate) use figure_fields;

/// Takes a material apart but for its figures, which the table has:
/// `other_fields!(let { name, note: _, … } = material)`. A new field of another kind does not
/// compile until somebody has looked wherever this stands.
macro_rules! other_fields {
    (let { $($others:tt)* } = $material:expr) => {
        $crate::material::figure_fields! { other_fields! { { $($others)* } { $material } } }
    };
    ({ { $($others:tt)* } { $material:expr } } $($value:ident $field:ident,)+) => {
        let $crate::material::Material { $($field: _,)+ $($others)* } = $material;
    };
}
pub(crate) use other_fields;

/// A material of all its fields but the figures, none of which is stated yet.
macro_rules! without_figures {
    ({ $($others:tt)* }) => {
        $crate::material::figure_fields! { without_figures! { { $($others)* } {} } }
    };
    ({ { $($others:tt)* } {} } $($value:ident $field:ident,)+) => {
        $crate::material::Material { $($field: None,)+ $($others)* }
    };
}
pub(crate) use without_figures;

/// The figures of a value, in the unit of the material file; where it is one figure, both ends
/// are that.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Figures {
    /// The one figure, or the low end.
    pub low: f64,
    /// The one figure, or the high end; not below the low one.
    pub high: f64,
}

impl Figures {
    /// One figure.
    pub const fn one(figure: f64) -> Self {
        Self {
            low: figure,
            high: figure,
        }
    }
}

/// Whether a value is one figure or two.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Ends {
    /// One figure.
    One,
    /// A low and a high.
    LowAndHigh,
    /// A low and a high, told as one figure among changes where they are equal.
    LowAndHighOrOne,
}

/// How the figures of a value are typed and shown.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Counted {
    /// The unit in which it is typed and shown; empty for a bare number.
    pub unit: &'static str,
    /// How many units of the file are one of the unit typed.
    file_units: f64,
    /// Lowest figure that may be typed, in the unit typed.
    pub least: f64,
    /// Highest figure that may be typed, in the unit typed.
    pub most: f64,
    /// One figure or two.
    pub ends: Ends,
    /// Whether it is a share of one, which people also write in percent.
    pub of_one: bool,
}

impl Counted {
    /// An index from 0 to 1.
    const fn index(ends: Ends) -> Self {
        Self {
            of_one: true,
            ..Self::bare(0.0, 1.0, ends)
        }
    }

    const fn bare(least: f64, most: f64, ends: Ends) -> Self {
        Self {
            unit: "",
            file_units: 1.0,
            least,
            most,
            ends,
            of_one: false,
        }
    }

    /// Whether it is a low and a high.
    pub const fn has_two_ends(&self) -> bool {
        !matches!(self.ends, Ends::One)
    }

    /// A figure of the file, in the unit in which it is typed.
    pub fn typed(&self, in_file: f64) -> f64 {
        in_file / self.file_units
    }

    /// A figure as typed, in the unit of the file.
    pub fn in_file(&self, typed: f64) -> f64 {
        if self.file_units == 1.0 {
            typed
        } else {
            // To the ninth decimal, so that a unit of 1000 brings no binary noise.
            tidy(typed * self.file_units, 9)
        }
    }
}

/// What is to be known about a value of a material.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct ValueRow {
    /// Its field in the material file, and the heading of its column in tables.
    pub key: &'static str,
    /// The name shown.
    pub label: &'static str,
    /// What it means, its unit and its range.
    pub explanation: &'static str,
    /// Its name in a list of changes.
    pub in_changes: &'static str,
    /// How its figures are typed and shown; none for a value of another shape.
    pub counted: Option<Counted>,
}

/// A type that is figures.
trait Figured: Sized {
    /// The figures, in the unit of the material file.
    fn figures(&self) -> Figures;
    /// What the figures say; none if they are out of its range.
    fn of_figures(figures: Figures) -> Option<Self>;
}

impl Figured for f64 {
    fn figures(&self) -> Figures {
        Figures::one(*self)
    }
    fn of_figures(figures: Figures) -> Option<Self> {
        Some(figures.low)
    }
}

impl Figured for Temperature {
    fn figures(&self) -> Figures {
        Figures::one(celsius_decimal(*self))
    }
    fn of_figures(figures: Figures) -> Option<Self> {
        Some(celsius(figures.low))
    }
}

impl Figured for MassDensity {
    fn figures(&self) -> Figures {
        Figures::one(in_kg_per_m3(*self))
    }
    fn of_figures(figures: Figures) -> Option<Self> {
        Some(kg_per_m3(figures.low))
    }
}

impl Figured for PhRange {
    fn figures(&self) -> Figures {
        Figures {
            low: self.low.value(),
            high: self.high.value(),
        }
    }
    fn of_figures(figures: Figures) -> Option<Self> {
        Self::new(figures.low, figures.high)
    }
}

impl Figured for NaturalOrigin {
    fn figures(&self) -> Figures {
        Figures {
            low: self.low,
            high: self.high,
        }
    }
    fn of_figures(figures: Figures) -> Option<Self> {
        Some(Self {
            low: figures.low,
            high: figures.high,
        })
    }
}

macro_rules! values {
    ({} $($value:ident $field:ident,)+) => {
        /// A value of a material that may have a source of its own.
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
        #[expect(missing_docs, reason = "its row tells what each is")]
        pub enum MaterialValue {
            $($value,)+
            // Of another shape than figures.
            Preservation,
            Alkalinity,
        }

        impl MaterialValue {
            /// Those that are figures, in the order in which they are shown and written.
            pub const FIGURES: [Self; [$(Self::$value),+].len()] = [$(Self::$value),+];
            /// All, in the same order.
            pub const ALL: [Self; Self::FIGURES.len() + 2] =
                [$(Self::$value,)+ Self::Preservation, Self::Alkalinity];
        }

        impl Material {
            /// The figures of a value, in the unit of the material file, and where they are
            /// from; none where it is not stated or is no figures.
            pub fn figures(&self, value: MaterialValue) -> Option<(Figures, &Source)> {
                match value {
                    $(MaterialValue::$value => {
                        self.$field.as_ref().map(|v| (v.value.figures(), &v.source))
                    })+
                    MaterialValue::Preservation | MaterialValue::Alkalinity => None,
                }
            }

            /// States a value by its figures, in the unit of the material file. Figures that the
            /// value cannot have, such as a pH of 20, leave it unstated; a value of another
            /// shape stays as it is.
            pub fn set_figures(&mut self, value: MaterialValue, figures: Figures, source: Source) {
                match value {
                    $(MaterialValue::$value => {
                        self.$field =
                            Figured::of_figures(figures).map(|v| Sourced::new(v, source));
                    })+
                    MaterialValue::Preservation | MaterialValue::Alkalinity => {}
                }
            }

            /// The source of a value; none where it is not stated.
            pub fn source_of(&self, value: MaterialValue) -> Option<&Source> {
                match value {
                    $(MaterialValue::$value => self.$field.as_ref().map(|v| &v.source),)+
                    MaterialValue::Preservation => self.preservation.as_ref().map(|p| &p.source),
                    MaterialValue::Alkalinity => self.alkalinity.source(),
                }
            }

            /// Whether two materials state the same of a value, from the same source.
            pub fn states_as(&self, other: &Self, value: MaterialValue) -> bool {
                match value {
                    $(MaterialValue::$value => self.$field == other.$field,)+
                    MaterialValue::Preservation => self.preservation == other.preservation,
                    MaterialValue::Alkalinity => self.alkalinity == other.alkalinity,
                }
            }

            /// Takes a value over from another material, with its source.
            pub fn take_value(&mut self, value: MaterialValue, from: &Self) {
                match value {
                    $(MaterialValue::$value => self.$field.clone_from(&from.$field),)+
                    MaterialValue::Preservation => {
                        self.preservation.clone_from(&from.preservation);
                    }
                    MaterialValue::Alkalinity => self.alkalinity.clone_from(&from.alkalinity),
                }
            }
        }
    };
}
figure_fields! { values! {} }

impl MaterialValue {
    /// What is to be known about it.
    pub const fn row(self) -> ValueRow {
        match self {
            Self::PhWindow => ValueRow {
                key: "ph_window",
                label: "pH window",
                explanation: "Lowest and highest pH at which it is stable and works, from -2 to 16",
                in_changes: "pH window",
                counted: Some(Counted::bare(-2.0, 16.0, Ends::LowAndHigh)),
            },
            Self::MaxTemperature => ValueRow {
                key: "max_temperature_c",
                label: "Highest temperature",
                explanation: "Highest process temperature it bears, in °C",
                in_changes: "highest temperature",
                counted: Some(Counted {
                    unit: "°C",
                    ..Counted::bare(-80.0, 400.0, Ends::One)
                }),
            },
            Self::Density => ValueRow {
                key: "density_kg_m3",
                label: "Density",
                explanation: "At 20 °C in g/ml (water is 0.998); used for volumes and fill weights",
                in_changes: "density",
                counted: Some(Counted {
                    unit: "g/ml",
                    file_units: 1000.0,
                    ..Counted::bare(0.01, 25.0, Ends::One)
                }),
            },
            Self::Hlb => ValueRow {
                key: "hlb",
                label: "HLB",
                explanation: "Hydrophilic-lipophilic balance of an emulsifier or surfactant, Griffin's scale, 0 to 50",
                in_changes: "HLB",
                counted: Some(Counted::bare(0.0, 50.0, Ends::One)),
            },
            Self::RequiredHlb => ValueRow {
                key: "required_hlb",
                label: "Required HLB",
                explanation: "HLB that an oil requires for an oil-in-water emulsion, 0 to 50",
                in_changes: "required HLB",
                counted: Some(Counted::bare(0.0, 50.0, Ends::One)),
            },
            Self::NaturalOrigin => ValueRow {
                key: "natural_origin",
                label: "Natural origin index",
                explanation: "Share of natural origin by ISO 16128, from 0 to 1 (95 % is read as 0.95), formulation water not counted; lowest and highest if it depends on the source",
                in_changes: "natural origin index",
                counted: Some(Counted::index(Ends::LowAndHighOrOne)),
            },
            Self::Preservation => ValueRow {
                key: "preservation",
                label: "Preservation",
                explanation: "What a preservative covers, and between which doses of this raw material and at which pH it works",
                in_changes: "preservation",
                counted: None,
            },
            Self::Alkalinity => ValueRow {
                key: "alkalinity",
                label: "Effect on pH",
                explanation: "Whether the constituents tell all about pH, or it brings acid or base that is not listed, or how much you have titrated",
                in_changes: "acid or base beyond the constituents",
                counted: None,
            },
        }
    }

    /// The fields of the material file, in the order of [`Self::ALL`].
    pub const KEYS: [&'static str; Self::ALL.len()] = {
        let mut keys = [""; Self::ALL.len()];
        let mut n = 0;
        while n < keys.len() {
            keys[n] = Self::ALL[n].row().key;
            n += 1;
        }
        keys
    };

    /// Those that are figures, with how they are typed and shown.
    pub fn counted() -> impl Iterator<Item = (Self, Counted)> {
        Self::FIGURES
            .into_iter()
            .filter_map(|value| Some((value, value.row().counted?)))
    }
}

impl Material {
    /// The source of every value that is stated.
    pub fn value_sources(&self) -> impl Iterator<Item = (MaterialValue, &Source)> {
        MaterialValue::ALL
            .into_iter()
            .filter_map(|value| Some((value, self.source_of(value)?)))
    }
}
