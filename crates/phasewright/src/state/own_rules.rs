//! The maker's own lists of rules, kept in files of their own.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use formulation::file::rule_file;
use formulation::rules::RuleBook;

use super::State;

impl State {
    /// Puts the rules of the program and of the maker's files in place. A file that
    /// cannot be read is told and left out.
    pub fn open_rules(&mut self) {
        let (book, problems) = book(&self.settings.own_rules);
        self.around.context.rules = book;
        self.around.number += 1;
        for problem in problems {
            self.warn(left_out(&problem));
        }
    }

    /// Adds a file of rules and remembers it.
    ///
    /// # Errors
    /// Why it could not be read, in words.
    pub fn add_rules(&mut self, path: &Path) -> Result<(), String> {
        if self.settings.own_rules.iter().any(|p| p == path) {
            return Err(format!(
                "These rules are in use already ({})",
                path.display()
            ));
        }
        self.around.context.rules = Arc::new(with_file(&self.around.context.rules, path)?);
        self.around.number += 1;
        self.settings.own_rules.push(path.to_path_buf());
        Ok(())
    }

    /// Takes a file of rules out again; the file itself stays.
    pub fn remove_rules(&mut self, path: &Path) {
        self.settings.own_rules.retain(|p| p != path);
        self.open_rules();
    }
}

/// The rules of the program with those of the maker's files, and why some could not be used.
pub fn book(files: &[PathBuf]) -> (Arc<RuleBook>, Vec<String>) {
    let mut book = RuleBook::shared();
    let mut problems = Vec::new();
    for path in files {
        match with_file(&book, path) {
            Ok(more) => book = Arc::new(more),
            Err(problem) => problems.push(problem),
        }
    }
    (book, problems)
}

/// The words for a file of rules that could not be used.
pub fn left_out(problem: &str) -> String {
    format!("Everything is checked without these rules of yours: {problem}")
}

fn with_file(book: &RuleBook, path: &Path) -> Result<RuleBook, String> {
    let text = rule_file::open(path).map_err(|e| e.to_string())?;
    book.with_list(&text, &path.to_string_lossy())
        .map_err(|e| e.to_string())
}
