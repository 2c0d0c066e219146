//! A quantity's text to a value that a workshop can have.

use crate::finding::Finding;
use crate::units::{Kind, Quantity, parse};

/// Larger values than this, in the kind's base unit, are slips of the pen (10 km, 10 000 m/min,
/// ten million turns a minute); sums of some hundred of them can still be printed.
const GREATEST: f64 = 1e7;

/// Smaller lengths than this are below what anybody measures in wood, and would be printed as
/// nothing, mm.
const LEAST_LENGTH_MM: f64 = 0.001;

/// Reads `text`, which stands in `field`.
///
/// # Errors
/// What is wrong with it, pointing at the characters.
pub(super) fn quantity(field: &str, text: &str, kind: Kind) -> Result<Quantity, Finding> {
    let quantity = parse(text, kind).map_err(|error| {
        let mut finding = Finding::error("quantity", field, error.to_string()).hint(error.hint());
        finding.part = Some(Box::new(error.at..error.at + error.len));
        finding
    })?;
    let size = quantity.value.abs();
    let is_length = matches!(kind, Kind::Length | Kind::SignedLength);
    if size > GREATEST {
        let message = "this is larger than anything in a workshop";
        return Err(
            Finding::error("too-large", field, message).hint("check the digits and the unit")
        );
    }
    if is_length && size > 0.0 && size < LEAST_LENGTH_MM {
        let message = "this is smaller than anything that can be measured in wood";
        return Err(Finding::error("too-small", field, message)
            .hint("a length is at least 0.001 mm; write \"0 mm\" for none"));
    }
    Ok(quantity)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_beyond_a_workshop_are_refused() {
        let code = |text, kind| quantity("f", text, kind).map_err(|finding| finding.code);
        assert_eq!(code("99999999999999999 m", Kind::Length), Err("too-large"));
        assert_eq!(code("-20 000 000 mm", Kind::SignedLength), Err("quantity"));
        assert_eq!(code("-20000000 mm", Kind::SignedLength), Err("too-large"));
        assert_eq!(code("0.0000000000001 mm", Kind::Length), Err("too-small"));
        assert!(code("0 mm", Kind::Length).is_ok() && code("0.001 mm", Kind::Length).is_ok());
        assert!(code("0.0001 s", Kind::Time).is_ok());
    }
}
