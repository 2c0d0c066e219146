//! Tables as comma-separated values (RFC 4180), safe to open in a spreadsheet.

/// Rows as CSV text, lines ended by CR LF as RFC 4180 has it. A cell that a spreadsheet would take
/// for a formula (`=`, `+`, `-`, `@` and text behind it) gets an apostrophe in front; numbers keep
/// their sign.
pub fn csv(rows: &[Vec<String>]) -> String {
    let mut text = String::new();
    for row in rows {
        let cells: Vec<String> = row.iter().map(|cell| quoted(cell)).collect();
        text.push_str(&cells.join(","));
        text.push_str("\r\n");
    }
    text
}

fn quoted(cell: &str) -> String {
    let formula =
        cell.starts_with(['=', '+', '-', '@', '\t', '\r']) && cell.parse::<f64>().is_err();
    let text = if formula {
        format!("'{cell}")
    } else {
        cell.to_owned()
    };
    if text.contains([',', '"', '\r', '\n', ';']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_data() {
        let rows = vec![
            ["=cmd()", "a,b", "-1.5", "say \"x\""]
                .map(String::from)
                .to_vec(),
        ];
        assert_eq!(csv(&rows), "'=cmd(),\"a,b\",-1.5,\"say \"\"x\"\"\"\r\n");
    }
}
