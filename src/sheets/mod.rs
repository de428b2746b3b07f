//! Comes in: results of all rooms before. Goes out: drawings, templates, the calculation sheet, the packet.
//! This room never computes a result of its own.
