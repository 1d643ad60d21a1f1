//! How everything is written as RON and JSON.
//!
//! Both writers take what they write through a table of its parts instead of being compiled
//! anew for each of the hundred kinds of parts, which made the program half a megabyte larger.

use erased_serde::Serialize;
use ron::ser::PrettyConfig;

/// The RON of a value, by the options of its kind of file.
pub(crate) fn ron(
    value: &dyn Serialize,
    options: &ron::Options,
    style: PrettyConfig,
) -> ron::Result<String> {
    options.to_string_pretty(value, style)
}

/// The JSON of a value, a field a line.
pub(crate) fn json(value: &dyn Serialize) -> serde_json::Result<String> {
    serde_json::to_string_pretty(value)
}

/// The JSON of a value, all on one line.
pub(crate) fn json_line(value: &dyn Serialize) -> serde_json::Result<String> {
    serde_json::to_string(value)
}
