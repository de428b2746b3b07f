//! Comes in: a place and a date. Goes out: sun positions, energy on a tilted face, seasons, hours of sun over a horizon.
//! This room never knows the frame: it works for any flat face.
