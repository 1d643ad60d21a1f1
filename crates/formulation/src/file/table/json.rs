//! Lists in JSON, as programs give them out: a list of objects is a table, its keys are the
//! headings, and what stands beside the list says what it is of.

use serde_json::{Map, Value};

use super::columns::{ColumnKind, spelt_heading};
use super::phase_words::phase_heading;
use super::{Cell, Collector, Shown, Table, TableError};

type Object = Map<String, Value>;

/// The tables of a text in JSON; `None` if it is none.
pub(super) fn read(text: &str) -> Option<Result<Vec<Table>, TableError>> {
    let text = text.trim_start_matches('\u{FEFF}').trim();
    if !text.starts_with(['{', '[']) || !text.ends_with(['}', ']']) {
        return None;
    }
    let value: Value = serde_json::from_str(text).ok()?;
    let mut tables = Vec::new();
    let found = gather(&value, &Object::new(), &mut tables);
    Some(found.and(if tables.is_empty() {
        Err(TableError::Kind {
            what: "this is JSON, and holds no list of materials",
            remedy: "save the recipe as CSV or XLSX, or paste it as text",
        })
    } else {
        Ok(tables)
    }))
}

/// Every list of objects in a value, those within others too. `around` is the object that holds
/// it.
fn gather(value: &Value, around: &Object, tables: &mut Vec<Table>) -> Result<(), TableError> {
    match value {
        Value::Object(object) => {
            for inner in object.values() {
                gather(inner, object, tables)?;
            }
        }
        Value::Array(all) => {
            let objects: Vec<&Object> = all.iter().filter_map(Value::as_object).collect();
            if objects.len() == all.len()
                && let Some(lines) = lines_of_phases(&objects)
            {
                tables.push(table(&lines.iter().collect::<Vec<_>>(), around)?);
                return Ok(());
            }
            let nested = |object: &&Object| object.values().any(is_list);
            if objects.len() == all.len() && objects.len() > 1 && !objects.iter().any(nested) {
                tables.push(table(&objects, around)?);
            } else {
                for inner in all {
                    gather(inner, around, tables)?;
                }
            }
        }
        _ => {}
    }
    Ok(())
}

/// The lines of objects that are the phases of one recipe, each with its list and with what the
/// object says of the phase in front; `None` if they are none.
fn lines_of_phases(objects: &[&Object]) -> Option<Vec<Object>> {
    let says_phase = |key: &String, value: &Value| {
        let of_phase = spelt_heading(&in_words(key)).is_some_and(|c| c.kind == ColumnKind::Phase);
        let names_one = |text: &str| phase_heading(text).is_some();
        value.is_string() && of_phase || value.as_str().is_some_and(names_one)
    };
    let lines = |object: &&Object| -> Option<Vec<Object>> {
        let mut lists = object.values().filter(|value| is_list(value));
        let (Some(Value::Array(list)), None) = (lists.next(), lists.next()) else {
            return None;
        };
        let phase: Vec<(&String, &Value)> =
            object.iter().filter(|(_, value)| !is_list(value)).collect();
        phase.iter().find(|(key, value)| says_phase(key, value))?;
        let lines = list.iter().map(|line| {
            let line = line.as_object()?;
            let own = line.iter().map(|(key, value)| (key.clone(), value.clone()));
            let of_phase = phase.iter().filter(|(key, _)| !line.contains_key(*key));
            let of_phase = of_phase.map(|(key, value)| ((*key).clone(), (*value).clone()));
            Some(of_phase.chain(own).collect())
        });
        lines.collect()
    };
    let all: Option<Vec<Vec<Object>>> = objects.iter().map(lines).collect();
    all.filter(|phases| phases.len() > 1)
        .map(|phases| phases.into_iter().flatten().collect())
}

fn is_list(value: &Value) -> bool {
    value
        .as_array()
        .is_some_and(|all| all.iter().any(Value::is_object))
}

/// What stands beside a list in two cells each, its keys, and a row for each object.
fn table(objects: &[&Object], around: &Object) -> Result<Table, TableError> {
    let mut keys: Vec<&String> = Vec::new();
    for key in objects.iter().flat_map(|object| object.keys()) {
        if !keys.contains(&key) {
            keys.push(key);
        }
    }
    let title = ["title", "name"]
        .into_iter()
        .find_map(|key| around.get(key));
    let title = title.and_then(Value::as_str).unwrap_or_default();
    let mut collector = Collector::new(title, 0);
    let facts = around.iter().map(|(key, value)| (key, cell(value)));
    let facts: Vec<_> = facts.filter(|(_, cell)| !cell.is_empty()).collect();
    if !title.is_empty() {
        collector.put(0, 0, Cell::Text(title.to_owned()))?;
    }
    for (at, (key, cell)) in facts.into_iter().enumerate() {
        let row = at + 1;
        collector.put(row, 0, Cell::Text(format!("{}:", in_words(key))))?;
        collector.put(row, 1, cell)?;
    }
    let headings = collector.table.rows.len() + 1;
    for (column, key) in keys.iter().enumerate() {
        collector.put(headings, column, Cell::Text(in_words(key)))?;
    }
    for (at, object) in objects.iter().enumerate() {
        for (column, key) in keys.iter().enumerate() {
            let cell = object.get(*key).map_or(Cell::Empty, cell);
            collector.put(headings + 1 + at, column, cell)?;
        }
    }
    Ok(collector.table)
}

/// A value as a cell; what is no text and no number is none.
fn cell(value: &Value) -> Cell {
    match value {
        Value::String(text) => Cell::Text(text.clone()),
        Value::Number(number) => number.to_string().parse().map_or_else(
            |_| Cell::Text(number.to_string()),
            |value| Cell::Number {
                value,
                shown: Shown::Plain,
            },
        ),
        _ => Cell::Empty,
    }
}

/// A key in words: "batchSize", "batch_size".
fn in_words(key: &str) -> String {
    let mut words = String::new();
    let mut lower = false;
    for letter in key.chars() {
        if lower && letter.is_uppercase() {
            words.push(' ');
        }
        lower = letter.is_lowercase();
        words.push(if letter == '_' { ' ' } else { letter });
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_of_objects_is_a_table() {
        let text = r#"{"app": "Kettle", "recipes": [{"title": "Oil", "total_mass": 200,
            "items": [{"name": "Jojoba oil", "amountG": 150, "done": false},
                      {"name": "Castor oil", "amountG": 50}], "notes": "cold"}]}"#;
        let tables = read(text).unwrap().unwrap();
        let [table] = tables.as_slice() else {
            panic!("{tables:?}");
        };
        let rows: Vec<String> = (0..table.rows.len()).map(|r| table.row_text(r)).collect();
        assert_eq!(rows[0], "Oil");
        assert!(rows.contains(&"total mass: 200".to_owned()), "{rows:?}");
        assert!(rows.iter().any(|row| row.contains("amount G")), "{rows:?}");
        assert!(
            rows.iter().any(|row| row.contains("Castor oil")),
            "{rows:?}"
        );
        let phases = r#"{"nombre": "Gel", "peso_lote_g": 240, "fases": [
            {"fase": "A", "temperatura_C": 75, "componentes": [
                {"materia": "Agua", "porcentaje": "90,0"}, {"materia": "Glicerina", "porcentaje": "5,0"}]},
            {"fase": "B", "temperatura_C": 40, "componentes": [
                {"materia": "Fenoxietanol", "porcentaje": "5,0"}]}]}"#;
        let tables = read(phases).unwrap().unwrap();
        let [table] = tables.as_slice() else {
            panic!("{tables:?}");
        };
        let rows: Vec<String> = (0..table.rows.len()).map(|r| table.row_text(r)).collect();
        assert!(rows.contains(&"peso lote g: 240".to_owned()), "{rows:?}");
        // Keys in the order of their letters.
        assert_eq!(rows.last().unwrap(), "B Fenoxietanol 5,0 40");
        // Recipes, each with a list, are no phases of one.
        let recipes = r#"[{"title": "One", "items": [{"name": "Oil", "g": 1}, {"name": "Wax", "g": 2}]},
            {"title": "Two", "items": [{"name": "Oil", "g": 3}, {"name": "Wax", "g": 4}]}]"#;
        assert_eq!(read(recipes).unwrap().unwrap().len(), 2);
        assert!(read("[3/11/26, 19:02] Ann: water").is_none());
        assert!(read(r#"{"water": 70}"#).unwrap().is_err());
    }
}
