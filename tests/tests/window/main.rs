//! The window, driven through its accessibility tree, one module a sheet.

mod at_hand;
mod bring_in;
mod broken;
mod first_minute;
mod formula_sheet;
mod help;
mod idle;
mod keyboard;
mod label_sheet;
mod legible;
mod make_bench;
mod make_books;
mod make_record;
mod make_sheet;
mod person;
mod readouts;
mod shelf_window;
mod side_by_side;
mod signing;
mod small;
mod trials_sheet;
mod typed_text;
mod work;
