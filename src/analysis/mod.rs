//! Comes in: nodes, members, supports, loads (N, mm, rad). Goes out: displacements, reactions, member end forces.
//! This room never knows what a panel or a stay is.
