//! What is settled about materials of files with `--match`.

use formulation::file::table::recipe::MaterialChoice;
use formulation::material::MaterialId;
use formulation::naming::How;
use formulation::shelf::Shelf;

use super::Failure;

/// Exit code if something had to be assumed.
pub(super) const ASSUMED: u8 = 3;

/// The row of `ROW=MATERIAL` and what it is taken for.
pub(super) fn matched(chosen: &str, shelf: &Shelf) -> Result<(usize, MaterialChoice), Failure> {
    let wrong = || {
        Failure(format!(
            "“{chosen}” is not a match; write the row, an equals sign, and the id of a material or “new”, such as 7=glycerin-99-5"
        ))
    };
    let (row, material) = chosen.split_once('=').ok_or_else(wrong)?;
    let row = row.trim().parse::<usize>().map_err(|_not_a_row| wrong())?;
    if material.trim().eq_ignore_ascii_case("new") {
        return Ok((row, MaterialChoice::New));
    }
    let id = MaterialId::from_name(material);
    if shelf.get(&id).is_none() {
        return Err(Failure(format!(
            "“{material}” is not on the shelf; look it up with “phasewright shelf search”"
        )));
    }
    Ok((row, MaterialChoice::Known(id, How::Chosen)))
}
