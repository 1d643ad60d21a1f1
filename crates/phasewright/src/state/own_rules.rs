//! The maker's own lists of rules, kept in files of their own.

use std::path::Path;
use std::sync::Arc;

use formulation::file::rule_file;
use formulation::rules::RuleBook;

use super::State;

impl State {
    /// Puts the rules of the program and of the maker's files in place. A file that
    /// cannot be read is told and left out.
    pub fn open_rules(&mut self) {
        let mut book = RuleBook::shared();
        let mut problems = Vec::new();
        for path in &self.settings.own_rules {
            match with_file(&book, path) {
                Ok(more) => book = Arc::new(more),
                Err(problem) => problems.push(problem),
            }
        }
        self.around.context.rules = book;
        self.around.number += 1;
        for problem in problems {
            self.warn(format!(
                "Everything is checked without these rules of yours: {problem}"
            ));
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

fn with_file(book: &RuleBook, path: &Path) -> Result<RuleBook, String> {
    let text = rule_file::open(path).map_err(|e| e.to_string())?;
    book.with_list(&text, &path.to_string_lossy())
        .map_err(|e| e.to_string())
}
