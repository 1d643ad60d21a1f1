//! Gives every reader of the program as many changed inputs as one has time for.
//!
//! `long_run INPUTS SEED [FOLDER [READER…]]` spreads the number over all targets by what an input costs
//! and over all cores, prints a row of a table for each target, and writes inputs that broke a
//! reader into the folder. With names of readers, only these get their share.

use std::io::Write as _;
use std::panic;
use std::path::PathBuf;
use std::thread;

use acceptance::inputs::{self, ALL, Input, Outcome};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut given = std::env::args().skip(1);
    let inputs: u64 = given.next().ok_or("name a number of inputs")?.parse()?;
    let seed: u64 = given.next().ok_or("name a seed")?.parse()?;
    let folder = given.next().map(PathBuf::from);
    let only: Vec<String> = given.collect();
    if let Some(unknown) = only
        .iter()
        .find(|name| ALL.iter().all(|i| i.name != **name))
    {
        return Err(format!("“{unknown}” is no reader").into());
    }
    let mut out = std::io::stdout();
    writeln!(
        out,
        "| reader | inputs | broken | slowest, ms |\n|---|---|---|---|"
    )?;
    // Cheap readers get more, but none less than a hundredth of an even share.
    let weight = |cost: u64| 1.0 / (cost as f64).sqrt();
    let weights: f64 = ALL.iter().map(|input| weight(input.cost)).sum();
    let (mut all, mut broken) = (0, 0);
    for input in ALL
        .iter()
        .filter(|i| only.is_empty() || only.iter().any(|o| *o == i.name))
    {
        let share = (inputs as f64 * weight(input.cost) / weights).ceil() as u64;
        let outcome = on_all_cores(input, share, seed);
        writeln!(
            out,
            "| {} | {} | {} | {} |",
            input.name,
            outcome.inputs,
            outcome.breaks.len(),
            outcome.slowest.as_millis()
        )?;
        out.flush()?;
        for (number, found) in outcome.breaks.iter().enumerate() {
            eprintln!("{}: {}", input.name, found.cause);
            if let Some(folder) = &folder {
                std::fs::create_dir_all(folder)?;
                let path = folder.join(format!("{}-{seed}-{number}", input.name));
                std::fs::write(path, &found.bytes)?;
            }
        }
        all += outcome.inputs;
        broken += outcome.breaks.len();
    }
    writeln!(out, "| all | {all} | {broken} | |")?;
    if broken > 0 {
        return Err(format!("{broken} causes broke a reader").into());
    }
    Ok(())
}

/// Each core draws inputs of its own; what they found is put together.
fn on_all_cores(input: &Input, inputs: u64, seed: u64) -> Outcome {
    let cores = thread::available_parallelism().map_or(1, |cores| cores.get() as u64);
    let each = inputs.div_ceil(cores);
    // Seeds far apart, so that two cores never draw the same.
    let seeds = (0..cores).map(|core| seed ^ core.wrapping_mul(0xd134_2543_de82_ef95));
    thread::scope(|scope| {
        let begun: Vec<_> = seeds
            .map(|seed| scope.spawn(move || inputs::try_out(input, each, seed)))
            .collect();
        begun
            .into_iter()
            .map(|core| {
                core.join()
                    .unwrap_or_else(|cause| panic::resume_unwind(cause))
            })
            .fold(Outcome::default(), Outcome::and)
    })
}
