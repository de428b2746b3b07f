//! The exchange file as it is written: SI units (m, N, Pa, rad, kg).

use std::fmt;
use std::marker::PhantomData;

use serde::de::{MapAccess, Visitor};
use serde::ser::SerializeMap;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

#[derive(Debug, Serialize, Deserialize)]
pub(super) struct ModelFile {
    pub(super) name: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) desc: String,
    #[serde(default)]
    pub(super) units: String,
    #[serde(default)]
    pub(super) conventions: Vec<String>,
    pub(super) nodes: Vec<NodeRow>,
    pub(super) sections: Vec<SectionRow>,
    pub(super) members: Vec<MemberRow>,
    pub(super) supports: Vec<SupportRow>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) springs: Vec<SpringRow>,
    pub(super) load_cases: Ordered<CaseRow>,
    #[serde(default = "Ordered::empty", skip_serializing_if = "Ordered::is_empty")]
    pub(super) results: Ordered<ResultRow>,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) struct NodeRow {
    pub(super) id: String,
    pub(super) xyz: [f64; 3],
    #[serde(default, skip_serializing_if = "is_zero")]
    pub(super) mass: f64,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) struct SectionRow {
    pub(super) id: String,
    #[serde(rename = "A")]
    pub(super) area: f64,
    #[serde(rename = "Iy")]
    pub(super) i_y: f64,
    #[serde(rename = "Iz")]
    pub(super) i_z: f64,
    #[serde(rename = "J")]
    pub(super) j: f64,
    #[serde(rename = "E")]
    pub(super) e: f64,
    #[serde(rename = "G")]
    pub(super) g: f64,
    #[serde(default, skip_serializing_if = "is_zero")]
    pub(super) mass_per_m: f64,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) struct MemberRow {
    pub(super) id: String,
    pub(super) i: String,
    pub(super) j: String,
    pub(super) section: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) rotation_deg: Option<f64>,
    #[serde(default)]
    pub(super) releases: Releases,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) y_axis: Option<[f64; 3]>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) z_axis: Option<[f64; 3]>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) length: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) offset_i: Option<[f64; 3]>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) offset_j: Option<[f64; 3]>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) end_springs: Option<EndSprings>,
    #[serde(default, skip_serializing_if = "is_false")]
    pub(super) axial_only: bool,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) one_way: Option<MemberWay>,
}

#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum MemberWay {
    Tension,
    Compression,
    Slack,
}

#[derive(Debug, Default, Serialize, Deserialize)]
pub(super) struct Releases {
    pub(super) i: Vec<Component>,
    pub(super) j: Vec<Component>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub(super) enum Component {
    Fx,
    Mx,
    My,
    Mz,
}

#[derive(Debug, Default, Serialize, Deserialize)]
pub(super) struct EndSprings {
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) i: Vec<(Component, f64)>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) j: Vec<(Component, f64)>,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) struct SupportRow {
    pub(super) node: String,
    pub(super) fix: [u8; 6],
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) axes: Option<[[f64; 3]; 3]>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) one_way: Option<[Option<Side>; 3]>,
}

#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub(super) enum Side {
    #[serde(rename = "+")]
    Positive,
    #[serde(rename = "-")]
    Negative,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) struct SpringRow {
    pub(super) node: String,
    pub(super) k: [f64; 6],
}

#[derive(Debug, Default, Serialize, Deserialize)]
pub(super) struct CaseRow {
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) desc: String,
    #[serde(default)]
    pub(super) nodal: Vec<NodalRow>,
    #[serde(default)]
    pub(super) member_udl: Vec<UniformRow>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) member_line: Vec<LineRow>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) member_point: Vec<PointRow>,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) struct NodalRow {
    pub(super) node: String,
    #[serde(rename = "F")]
    pub(super) force: [f64; 3],
    #[serde(rename = "M", default)]
    pub(super) moment: [f64; 3],
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) struct UniformRow {
    pub(super) member: String,
    pub(super) w_global: [f64; 3],
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) struct LineRow {
    pub(super) member: String,
    pub(super) a: f64,
    pub(super) b: f64,
    pub(super) w_a_global: [f64; 3],
    pub(super) w_b_global: [f64; 3],
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) struct PointRow {
    pub(super) member: String,
    pub(super) at: f64,
    #[serde(rename = "F_global")]
    pub(super) force: [f64; 3],
    #[serde(rename = "M_global")]
    pub(super) moment: [f64; 3],
}

#[derive(Debug, Default, Serialize, Deserialize)]
pub(super) struct ResultRow {
    pub(super) displacements: Ordered<Vec<f64>>,
    pub(super) reactions: Ordered<Vec<f64>>,
    pub(super) end_forces: Ordered<Vec<f64>>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) order: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) open: Vec<String>,
}

fn is_zero(value: &f64) -> bool {
    *value == 0.0
}

fn is_false(value: &bool) -> bool {
    !value
}

/// An object whose keys keep the order they were written in.
#[derive(Debug)]
pub(super) struct Ordered<T>(pub(super) Vec<(String, T)>);

impl<T> Default for Ordered<T> {
    fn default() -> Self {
        Self::empty()
    }
}

impl<T> Ordered<T> {
    fn empty() -> Self {
        Self(Vec::new())
    }

    fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl<T: Serialize> Serialize for Ordered<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for (key, value) in &self.0 {
            map.serialize_entry(key, value)?;
        }
        map.end()
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Ordered<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Entries<T>(PhantomData<T>);
        impl<'de, T: Deserialize<'de>> Visitor<'de> for Entries<T> {
            type Value = Ordered<T>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("an object")
            }

            fn visit_map<M: MapAccess<'de>>(self, mut map: M) -> Result<Self::Value, M::Error> {
                let mut entries = Vec::new();
                while let Some(entry) = map.next_entry()? {
                    entries.push(entry);
                }
                Ok(Ordered(entries))
            }
        }
        deserializer.deserialize_map(Entries(PhantomData))
    }
}
