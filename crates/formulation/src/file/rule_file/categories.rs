//! The categories of fragrance use.

use std::sync::Arc;

use serde::Deserialize;

use super::VERSION;
use crate::file::read_error::ReadError;
use crate::formula::ProductType;
use crate::rules::fragrance::Category;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CategoryFile {
    version: u32,
    source: String,
    categories: Vec<CategoryRecord>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CategoryRecord {
    code: String,
    what: String,
    examples: String,
    types: Vec<String>,
}

/// Reads the categories of fragrance use.
///
/// # Errors
/// Not of this form, or an unknown type of product.
pub fn read_categories(text: &str, file: &str) -> Result<Vec<Category>, ReadError> {
    let record: CategoryFile = ron::from_str(text).map_err(|e| ReadError::ron(file, &e))?;
    if record.version != VERSION {
        return Err(ReadError::whole(
            file,
            format!("version {} is not read here", record.version),
        ));
    }
    let source: Arc<str> = record.source.into();
    record
        .categories
        .into_iter()
        .map(|c| {
            let types = c
                .types
                .iter()
                .map(|word| {
                    ProductType::from_word(word).ok_or_else(|| {
                        ReadError::whole(file, format!("“{word}” is not a type of product"))
                    })
                })
                .collect::<Result<_, _>>()?;
            Ok(Category {
                code: c.code.into(),
                what: c.what.into(),
                examples: c.examples.into(),
                types,
                source: source.clone(),
            })
        })
        .collect()
}
