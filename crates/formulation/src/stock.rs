//! Lots in stock.
