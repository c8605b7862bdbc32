//! Lengths and numbers as they are written: rounded here and nowhere else.

use serde::{Serialize, Serializer};

use crate::measure::Length;

/// Centimetres, to a hundredth of a millimetre.
#[derive(Clone, Copy)]
#[cfg_attr(test, derive(schemars::JsonSchema), schemars(inline))]
pub(super) struct Cm(#[cfg_attr(test, schemars(with = "f64"))] pub(super) Length);

/// A number to so many decimals; -0 is 0.
#[derive(Clone, Copy)]
#[cfg_attr(test, derive(schemars::JsonSchema), schemars(inline))]
pub(crate) struct Rounded<const DECIMALS: i32>(pub(super) f64);

impl Serialize for Cm {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        Rounded::<3>(self.0.to_cm()).serialize(serializer)
    }
}

impl<const DECIMALS: i32> Serialize for Rounded<DECIMALS> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let scale = 10_f64.powi(DECIMALS);
        serializer.serialize_f64((self.0 * scale).round() / scale + 0.0)
    }
}
