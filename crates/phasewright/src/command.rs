//! What a person can do, as one enum, and the table of labels and shortcuts.
//!
//! Sheets push commands while they are drawn; menus, shortcuts and tests push the
//! same ones. [`crate::app::Bench`] applies them after the frame.

use std::collections::BTreeSet;
use std::fmt;
use std::path::PathBuf;
use std::sync::Arc;

use eframe::egui::{Id, Key, KeyboardShortcut, Modifiers};
use formulation::batch::record::{Event, Opening};
use formulation::batch::workshop::{Paper, Workshop};
use formulation::batch_code::BatchCode;
use formulation::edit::Edit;
use formulation::file::formula_export::ExportForm;
use formulation::finding::{Level, StatedField};
use formulation::formula::{Formula, ItemId, VariantId};
use formulation::own_shelf::{Conflict, ShelfEdit};
use formulation::progress::Progress;
use formulation::stock::Stock;
use formulation::trial::book::TrialEvent;

use crate::examples::Example;
use crate::sheet_name::SheetName;
use crate::state::reminders::Waiting;
use crate::state::{DocumentId, Motion, PercentStep, ThemeChoice};

/// A picture format of the chart.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum PictureFormat {
    /// Scalable lines and text.
    Svg,
    /// Pixels.
    Png,
}

/// Bytes to be saved where the person says.
#[derive(Clone, PartialEq, Debug)]
pub struct Export {
    /// What is saved, for the title of the dialog, for example "Save the weigh sheet".
    pub title: String,
    /// Name suggested for the file, with its ending.
    pub file_name: String,
    /// The content.
    pub bytes: Arc<[u8]>,
}

/// A file to be made, which may take a while, and then saved where the person says.
#[derive(Clone)]
pub struct Making {
    /// What is saved, for the title of the dialog.
    pub title: String,
    /// Name suggested for the file, with its ending.
    pub file_name: String,
    /// What of the formula the form cannot hold, in words.
    pub left_behind: Vec<String>,
    /// Who is told why it could not be made, with [`crate::state::View::not_made`]; nobody in
    /// particular for what a menu offers.
    pub asked_by: Option<Id>,
    job: Arc<Job>,
}

type Job = dyn Fn(&Progress) -> Result<Vec<u8>, String> + Send + Sync;

impl Making {
    /// A file that `job` makes beside the window.
    pub fn new<E: ToString>(
        title: impl Into<String>,
        file_name: impl Into<String>,
        job: impl Fn() -> Result<Vec<u8>, E> + Send + Sync + 'static,
    ) -> Self {
        Self::watched(title, file_name, move |_| job())
    }

    /// The same by a job that says how far it is and ends where it is stopped.
    pub fn watched<E: ToString>(
        title: impl Into<String>,
        file_name: impl Into<String>,
        job: impl Fn(&Progress) -> Result<Vec<u8>, E> + Send + Sync + 'static,
    ) -> Self {
        Self {
            title: title.into(),
            file_name: file_name.into(),
            left_behind: Vec::new(),
            asked_by: None,
            job: Arc::new(move |progress| job(progress).map_err(|e| e.to_string())),
        }
    }

    /// Names who is told why it could not be made.
    #[must_use]
    pub fn asked_by(mut self, id: Id) -> Self {
        self.asked_by = Some(id);
        self
    }

    /// Makes it.
    pub fn make(&self, progress: &Progress) -> Result<Vec<u8>, String> {
        (self.job)(progress)
    }
}

impl PartialEq for Making {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.job, &other.job)
    }
}

impl fmt::Debug for Making {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_tuple("Making").field(&self.file_name).finish()
    }
}

/// A file to be picked by the person.
#[derive(Clone, PartialEq, Debug)]
pub struct Pick {
    /// Who asks; the path comes back with [`crate::state::View::picked`].
    pub id: Id,
    /// What is picked, for the title of the dialog.
    pub title: String,
    /// Endings without the dot; empty for any.
    pub endings: Vec<String>,
}

/// What a person can do in the workshop.
#[derive(Clone, PartialEq, Debug)]
pub enum BooksCommand {
    /// Puts a changed stock and workshop in place and saves them.
    SetStock(Box<(Stock, Workshop)>),
    /// Takes back the last change of the stock.
    UndoStock,
    /// Does again the change of the stock that was taken back last.
    RedoStock,
    /// Begins the record of a batch, for which this paper is taken; the text is who does it.
    Begin(Box<(Opening, Paper)>, String),
    /// Opens the record of a batch to go on with it.
    Resume(BatchCode),
    /// Lets go of the open record.
    Leave,
    /// Records an event in the open batch; the text is who does it.
    Record(Box<Event>, String),
}

/// What a person can do.
#[derive(Clone, PartialEq, Debug)]
pub enum Command {
    /// A new, empty formula.
    New,
    /// Fills the empty formula with what the start card states.
    Begin(Arc<Formula>),
    /// Asks for a file and opens it.
    Open,
    /// Asks for a typed path and opens it.
    OpenTyped,
    /// Opens a file.
    OpenPath(PathBuf),
    /// Opens a formula that comes with the program.
    OpenExample(Example),
    /// Asks for a recipe, a price list or materials of others to take in.
    BringIn,
    /// Looks at a file of others to take in.
    BringInFile(PathBuf),
    /// Looks at pasted text to take in.
    BringInText(String),
    /// Adds the lines of a table copied from a spreadsheet.
    PasteLines(String),
    /// Reads the file of the document again; undo brings unsaved changes back.
    Reload,
    /// Saves the document.
    Save,
    /// Asks for a place and saves the document there.
    SaveAs,
    /// Closes the document, asking first if it has unsaved changes.
    Close,
    /// Ends the program, asking first if there are unsaved changes.
    Quit,
    /// Freezes the variant with everything resolved and saves it where the person says.
    Finish,
    /// Saves the chart of the variant as a picture.
    ExportChart(PictureFormat),
    /// Saves the formula for other programs.
    ExportFormula(ExportForm),
    /// Saves bytes where the person says.
    Export(Export),
    /// Makes a file beside the window and saves it where the person says.
    Make(Making),
    /// Asks for a file on behalf of a sheet.
    Pick(Pick),

    /// One finished change of the variant worked on; one step of the history.
    Edit(Edit),
    /// A state of an interaction that is going on, such as a drag: the edit is applied
    /// to the formula as it was before the interaction. [`Self::KeepDraft`] ends it.
    Draft(Edit),
    /// Several edits of the variant worked on as one step of the history; if one of
    /// them cannot be done, none is.
    EditAll {
        /// What they do together, for the undo menu.
        what: Arc<str>,
        /// The edits, in their order.
        edits: Vec<Edit>,
    },
    /// An edit of a variant of any open document.
    EditIn {
        /// The document.
        document: DocumentId,
        /// The variant.
        variant: VariantId,
        /// The edit.
        edit: Edit,
        /// Whether an interaction is going on, as with [`Self::Draft`].
        draft: bool,
    },
    /// One finished change that the model has computed as a whole formula.
    Change {
        /// What it does, for the undo menu.
        what: Arc<str>,
        /// The formula as it is after it.
        formula: Arc<Formula>,
    },
    /// Interactions that are going on have ended; each becomes one step of the history.
    KeepDraft,
    /// The interaction that is going on is taken back.
    DropDraft,
    /// Takes the last step back.
    Undo,
    /// Does the step again that was taken back last.
    Redo,
    /// Goes to a place in the history.
    GoTo(usize),
    /// Shows a formula that an import has made as a new document.
    AddFormula(Arc<Formula>),
    /// Changes the maker's shelf and saves it.
    EditShelf(Vec<ShelfEdit>),
    /// Settles what two windows changed at the same time.
    SettleConflict(Box<Conflict>, Vec<ShelfEdit>),
    /// Keeps the maker's shelf in another folder.
    MoveShelf(PathBuf),
    /// Something in the workshop.
    Books(BooksCommand),
    /// Notes events in the trials of the document; the text is who does it.
    Note(Vec<TrialEvent>, String),
    /// Tells what waits: batches begun, what is due in the workshop and of stability plans.
    Remind,
    /// Opens what a reminder leads to.
    AttendTo(Waiting),
    /// Takes a reminder away for now.
    PutOff(Waiting),
    /// Looks again at what is due among the trials of recent files.
    LookElsewhere,

    /// Shows a sheet.
    Show(SheetName),
    /// Shows an open document.
    ShowDocument(DocumentId),
    /// Chooses lines.
    Choose(BTreeSet<ItemId>),
    /// Shows a line on the Formula sheet and chooses it.
    GoToLine(ItemId),
    /// Opens a field in which a finding asks for something to be stated.
    OpenField(StatedField),
    /// Shows what brings the pH to the one aimed at.
    AdjustPh,
    /// Shows a line with the box that puts another material in its place.
    SwapLine(ItemId),
    /// Puts the cursor into the search box that adds a line.
    FindMaterial,
    /// Light, dark, or as the system says.
    SetTheme(ThemeChoice),
    /// Whether things may glide and fade.
    SetMotion(Motion),
    /// The step on which percentages land that are moved.
    SetStep(PercentStep),
    /// Everything larger.
    ZoomIn,
    /// Everything smaller.
    ZoomOut,
    /// Everything at the system's own size.
    ZoomReset,
    /// Closes the hints of the first start.
    CloseHints,
    /// Shows the entry of a rule in words.
    ShowRule(Arc<str>),
    /// Adds a file of rules of the maker's own.
    AddRules(PathBuf),
    /// Takes a file of rules out again.
    RemoveRules(PathBuf),
    /// Shows what the program is and what it is not.
    About,
    /// Opens the window in which files are signed and checked.
    Signatures,
    /// Shows the help page of what is worked on.
    Help,
    /// Shows a help page, by the name of its file, at a heading of it.
    HelpAt(&'static str, Option<&'static str>),
    /// Tells something in the status bar.
    ShowMessage(Level, String),
    /// Takes what was told out of the status bar.
    DismissMessage,
    /// Puts away a warning about the maker's data that was read.
    PutAway(String),
}

impl Command {
    /// Whether it needs, or would leave behind, what is being typed into a field.
    pub const fn needs_what_is_typed(&self) -> bool {
        matches!(
            self,
            Self::New
                | Self::Open
                | Self::OpenTyped
                | Self::OpenPath(_)
                | Self::OpenExample(_)
                | Self::BringIn
                | Self::Reload
                | Self::Save
                | Self::SaveAs
                | Self::Close
                | Self::Quit
                | Self::Finish
                | Self::ExportChart(_)
                | Self::ExportFormula(_)
                | Self::Export(_)
                | Self::Make(_)
                | Self::Show(_)
                | Self::ShowDocument(_)
        )
    }
}

/// How a command is shown and reached.
pub struct CommandRow {
    /// The command.
    pub command: Command,
    /// The words of the menu.
    pub label: &'static str,
    /// What it does, for the hover.
    pub tooltip: &'static str,
    /// Its key.
    pub shortcut: Option<KeyboardShortcut>,
}

const fn key(key: Key) -> KeyboardShortcut {
    KeyboardShortcut::new(Modifiers::COMMAND, key)
}

const fn shift(key: Key) -> KeyboardShortcut {
    KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), key)
}

const fn entry(
    command: Command,
    label: &'static str,
    tooltip: &'static str,
    shortcut: Option<KeyboardShortcut>,
) -> CommandRow {
    CommandRow {
        command,
        label,
        tooltip,
        shortcut,
    }
}

/// Every command that needs nothing besides itself. Shortcuts with more modifiers
/// come before those with fewer, so that the longer one wins.
pub static TABLE: &[CommandRow] = &[
    entry(
        Command::New,
        "New formula",
        "Start an empty formula",
        Some(key(Key::N)),
    ),
    entry(
        Command::OpenTyped,
        "Open by path…",
        "Open a file by typing where it is",
        Some(shift(Key::O)),
    ),
    entry(
        Command::Open,
        "Open…",
        "Open a formula file, or a recipe or list of others",
        Some(key(Key::O)),
    ),
    entry(
        Command::BringIn,
        "Bring in…",
        "Take in a recipe, a price list or materials from a spreadsheet or text",
        Some(shift(Key::B)),
    ),
    entry(
        Command::SaveAs,
        "Save as…",
        "Save under another name",
        Some(shift(Key::S)),
    ),
    entry(
        Command::Save,
        "Save",
        "Save the formula; the last good copy is kept beside it",
        Some(key(Key::S)),
    ),
    entry(
        Command::Reload,
        "Read again",
        "Take over what is in the file; undo brings your state back",
        None,
    ),
    entry(
        Command::Close,
        "Close",
        "Close this formula",
        Some(key(Key::W)),
    ),
    entry(Command::Quit, "Quit", "End the program", Some(key(Key::Q))),
    entry(
        Command::Finish,
        "Finished formula…",
        "Freeze this variant with everything resolved and a checksum",
        Some(shift(Key::F)),
    ),
    entry(
        Command::Signatures,
        "Signatures…",
        "Sign a finished formula or a closed record, or check a signature",
        None,
    ),
    entry(
        Command::ExportFormula(ExportForm::Csv),
        "Lines as CSV…",
        "Save the lines of this variant as a plain table, which opens here again",
        None,
    ),
    entry(
        Command::ExportFormula(ExportForm::Xlsx),
        "Workbook as XLSX…",
        "Save lines and constituents of all variants as a workbook",
        None,
    ),
    entry(
        Command::ExportFormula(ExportForm::Json),
        "Formula as JSON…",
        "Save everything about this formula for other programs",
        None,
    ),
    entry(
        Command::ExportChart(PictureFormat::Svg),
        "Chart as SVG…",
        "Save the composition chart as a scalable picture",
        None,
    ),
    entry(
        Command::ExportChart(PictureFormat::Png),
        "Chart as PNG…",
        "Save the composition chart as a picture of pixels",
        None,
    ),
    entry(
        Command::Redo,
        "Redo",
        "Do the last undone step again",
        Some(shift(Key::Z)),
    ),
    entry(
        Command::Redo,
        "Redo",
        "Do the last undone step again",
        Some(key(Key::Y)),
    ),
    entry(
        Command::Undo,
        "Undo",
        "Take the last step back",
        Some(key(Key::Z)),
    ),
    entry(
        Command::FindMaterial,
        "Add a line",
        "Search the shelf and add a raw material",
        Some(key(Key::K)),
    ),
    entry(
        Command::Show(SheetName::Formula),
        "Formula",
        SheetName::Formula.tooltip(),
        Some(key(Key::Num1)),
    ),
    entry(
        Command::Show(SheetName::SideBySide),
        "Side by side",
        SheetName::SideBySide.tooltip(),
        Some(key(Key::Num2)),
    ),
    entry(
        Command::Show(SheetName::Aim),
        "Aim",
        SheetName::Aim.tooltip(),
        Some(key(Key::Num3)),
    ),
    entry(
        Command::Show(SheetName::Make),
        "Make",
        SheetName::Make.tooltip(),
        Some(key(Key::Num4)),
    ),
    entry(
        Command::Show(SheetName::Label),
        "Label",
        SheetName::Label.tooltip(),
        Some(key(Key::Num5)),
    ),
    entry(
        Command::Show(SheetName::Shelf),
        "Shelf",
        SheetName::Shelf.tooltip(),
        Some(key(Key::Num6)),
    ),
    entry(
        Command::Show(SheetName::Trials),
        "Trials",
        SheetName::Trials.tooltip(),
        Some(key(Key::Num7)),
    ),
    entry(
        Command::ZoomIn,
        "Larger",
        "Everything larger",
        Some(key(Key::Plus)),
    ),
    entry(
        Command::ZoomIn,
        "Larger",
        "Everything larger",
        Some(key(Key::Equals)),
    ),
    entry(
        Command::ZoomOut,
        "Smaller",
        "Everything smaller",
        Some(key(Key::Minus)),
    ),
    entry(
        Command::ZoomReset,
        "Usual size",
        "Everything at the system's own size",
        Some(key(Key::Num0)),
    ),
    entry(
        Command::Help,
        "Help",
        "The page about this sheet, and all others, with a search",
        Some(KeyboardShortcut::new(Modifiers::NONE, Key::F1)),
    ),
    entry(
        Command::About,
        "About Phasewright",
        "What the program is, and what it is not",
        None,
    ),
];

/// How a command is shown, if it is in the table.
pub fn entry_of(command: &Command) -> Option<&'static CommandRow> {
    TABLE.iter().find(|e| e.command == *command)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_commands_share_a_key() {
        for (i, a) in TABLE.iter().enumerate() {
            for b in &TABLE[..i] {
                let clash = a.shortcut.is_some() && a.shortcut == b.shortcut;
                assert!(!clash, "{} and {}", a.label, b.label);
            }
        }
    }

    #[test]
    fn a_key_with_shift_comes_before_the_same_without() {
        for (i, a) in TABLE.iter().enumerate() {
            for b in &TABLE[..i] {
                let (Some(a), Some(b)) = (a.shortcut, b.shortcut) else {
                    continue;
                };
                assert!(
                    a.logical_key != b.logical_key || !a.modifiers.shift,
                    "{a:?} comes after {b:?}"
                );
            }
        }
    }
}
