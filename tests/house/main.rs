//! The documents agree with the program, rooms only look back, the sample packet is what plan writes today.
mod circles;
mod clauses;
mod codes;
mod designs;
mod fields;
mod kinds;
mod readme;
mod rooms;
mod sample;
mod sources;
mod tables;
