//! Acceptance of the model and of the commands, one module a subject. One binary, so
//! that the program is linked once.

mod aim;
mod chemistry;
mod densities;
mod dialects;
mod docs;
mod examples;
mod files;
mod headless;
mod house;
mod inputs;
mod judgement;
mod label;
mod law;
mod make;
mod makers;
mod materials;
mod names;
mod plain_names;
mod saponification;
mod shelf;
mod trial_example;
mod trials;
mod way_out;
