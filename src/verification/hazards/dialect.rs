//! What a control's dialect takes: characters, line lengths, comments, codes.

use crate::verification::faults::{Fault, FaultLedger};
use crate::verification::gcode::block::GcodeBlock;
use crate::verification::gcode::lexer::{LineItem, items};
use crate::verification::limits::{Comments, Limits};
use memchr::memchr2;

/// Bytes that some controls act on at once, even in a comment (from memory), and % in a comment.
const LIVE: &[u8] = b"!?~";

/// Which bytes may not stand in a line.
const BAD: [bool; 256] = {
    let mut bad = [true; 256];
    let mut byte = b' ';
    while byte <= b'~' {
        bad[byte as usize] = false;
        byte += 1;
    }
    bad[b'\t' as usize] = false;
    let mut at = 0;
    while at < LIVE.len() {
        bad[LIVE[at] as usize] = true;
        at += 1;
    }
    bad
};

/// Checks a line.
pub(in crate::verification) fn check(
    line: &[u8],
    number: usize,
    limits: &Limits,
    faults: &mut FaultLedger,
) {
    check_length(line, number, limits, faults);
    check_bytes(line, number, faults);
    check_comments(line, number, limits, faults);
}

/// Tells of a line that ends with CR alone.
pub(in crate::verification) fn check_line_end(number: usize, faults: &mut FaultLedger) {
    let text = "this line ends with CR alone: a control that waits for LF takes all lines for one; \
                save the program with LF or CR LF at the end of every line";
    faults.add(Fault::at("line-end", number, text));
}

/// Tells of a last line without an end.
pub(in crate::verification) fn check_last(number: usize, faults: &mut FaultLedger) {
    let text = "the last line has no line end: some senders leave it out";
    faults.add(Fault::at("last-line-open", number, text));
}

fn check_length(line: &[u8], number: usize, limits: &Limits, faults: &mut FaultLedger) {
    let length = line.len();
    // NISTIR 6556, 3.3: 256 characters, where the control is not known.
    let limit = limits.max_line_length.unwrap_or(256);
    if length > limit {
        let text = format!("this line has {length} characters; the control takes {limit}");
        faults.add(Fault::at("line-too-long", number, text).column(limit + 1));
    }
}

fn check_bytes(line: &[u8], number: usize, faults: &mut FaultLedger) {
    let found = line.iter().position(|byte| BAD[usize::from(*byte)]);
    if let Some((place, byte)) = found.and_then(|place| Some((place, line.get(place)?))) {
        let text = match byte {
            b'!' | b'?' | b'~' => format!(
                "some controls act at once on `{}`, even in a comment",
                char::from(*byte)
            ),
            _ => format!("the byte {byte} is no printable ASCII"),
        };
        faults.add(Fault::at("character", number, text).column(place + 1));
    }
}

fn check_comments(line: &[u8], number: usize, limits: &Limits, faults: &mut FaultLedger) {
    let Some(taken) = limits.comments.filter(|taken| *taken != Comments::Both) else {
        return;
    };
    // Most lines have none.
    if memchr2(b'(', b';', line).is_none() {
        return;
    }
    for item in items(line).map_while(Result::ok) {
        let LineItem::Comment {
            semicolon, column, ..
        } = item
        else {
            continue;
        };
        let fine = match taken {
            Comments::Parentheses => !semicolon,
            Comments::Semicolon => semicolon,
            Comments::Both => true,
            Comments::Nothing => false,
        };
        if !fine {
            let text = match taken {
                Comments::Nothing => "this control takes no comments: leave it out",
                Comments::Semicolon => "this control takes comments after ; only",
                Comments::Parentheses | Comments::Both => {
                    "this control takes no comments after ; : write it in parentheses, as (text), or \
                     leave it out"
                }
            };
            faults.add(Fault::at("comment", number, text).column(column));
        }
    }
}

/// Codes that the control does not take.
pub(in crate::verification) fn check_codes(
    block: &GcodeBlock,
    limits: &Limits,
    faults: &mut FaultLedger,
) {
    for code in &block.codes {
        if limits.codes_not_taken.contains(&(code.letter, code.tenths)) {
            let number = f64::from(code.tenths) / 10.0;
            let text = format!("this control does not take {}{number}", code.letter);
            faults.add(Fault::at("code-not-taken", block.line, text).column(code.column));
        }
    }
}
