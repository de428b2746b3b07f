//! Comes in: nodes, members, supports, loads (N, mm, rad). Goes out: displacements, reactions, member end forces.
//! This room never knows what a panel or a stay is.
//!
//! # Axes
//! Global axes are right-handed with Z up. A member's local x runs from its end i to its end j; at roll 0 its local z
//! lies in the vertical plane through the member and points up, its local y is horizontal (`y = Z × x`). A vertical
//! member has local y along global Y. A positive roll turns y and z right-handed about x. `i_z` resists bending in the
//! x-y plane, `i_y` in the x-z plane.
//!
//! End forces act *on the member*, reactions act *on the structure*.
//!
//! # Method
//! Euler–Bernoulli members with six deformation modes each, assembled into a sparse matrix ordered by minimum
//! degree and factorised once as LDLᵀ for all linear cases of a geometry. Combinations are sums of cases; a
//! combination is iterated only where its second-order effect or a one-way part matters (see [`Options`]).
//!
//! # Example
//! ```
//! use tiltwright::analysis::{self, Factored, LoadCase, Member, Model, Options, Section, Support};
//!
//! let mut model = Model::new("cantilever");
//! let wall = model.node("wall", [0.0, 0.0, 0.0]);
//! let tip = model.node("tip", [3000.0, 0.0, 0.0]);
//! let tube = model.section(Section::new("tube", 200e3, 77e3, 1000.0, 1e6, 2e6, 5e5));
//! model.member(Member::new("arm", wall, tip, tube));
//! model.support(wall, Support::fixed());
//!
//! let push = LoadCase::new("push").force(tip, [0.0, 0.0, -1000.0]);
//! let results = analysis::run(model, &[push], &[Factored::new("1.5 push").with(0, 1.5)], &Options::default())?;
//! let worst = results.find("1.5 push").expect("the combination was asked for");
//! assert!((worst.displacement(tip)[2] + 67.5).abs() < 1e-6); // 1.5 P L³ / 3EI (mm)
//! # Ok::<(), analysis::AnalysisError>(())
//! ```

mod assemble;
mod axes;
mod bending;
mod contact;
mod envelope;
mod error;
mod exchange;
mod exchange_file;
mod line;
mod load;
mod mechanism;
mod member;
mod model;
mod modes;
mod order;
mod results;
mod settle;
mod soften;
mod solve;
mod sparse;
mod subspace;
mod together;

pub use assemble::Structure;
pub use envelope::{Envelope, Extreme, MemberEnvelope};
pub use error::{AnalysisError, Direction, Motion};
pub use line::{MemberLine, SectionForces};
pub use load::{Factored, LoadAxes, LoadCase, MemberLoad};
pub use model::{
    EndJoint, Joint, Member, MemberId, Model, NodeId, OneWay, Orientation, Section, SectionId, Support, Way,
};
pub use modes::{MassKind, Mode};
pub use results::{Order, Response, Results};
pub use settle::{Options, SecondOrder};
pub use solve::run;
