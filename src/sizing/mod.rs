//! Comes in: a design with open choices. Goes out: the cheapest or lightest design that passes, and why.
//! This room never checks by itself: it asks the rooms before it.
