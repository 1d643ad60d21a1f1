//! What the reading of an instrument means: flow cups, falling balls, known liquids, colours.

pub mod colour;
pub mod falling_ball;
pub mod flow_cup;
pub mod known_liquid;
