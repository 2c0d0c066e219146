//! Machine profiles that are wrong, or cannot make the good job.

use super::{Case, check, rows};
use crate::support::cli::shipped;

/// Rows that change a shipped profile, used for the good job by this command.
fn check_profiles(name: &str, command: &str, table: &str) {
    check_profile(&shipped(name), command, table);
}

fn check_profile(text: &str, command: &str, table: &str) {
    let args: Vec<&str> = command.split(' ').collect();
    let case = |row| Case::row(row, "own.toml", text, &args);
    check(&rows(table).map(case).collect::<Vec<_>>());
}

#[test]
fn sleds() {
    let command = "sled job.toml --machine own.toml";
    check_profiles(
        "key-sled",
        command,
        r#"
        kind = "sledge"                  | kind | did you mean `sled`?
        kerf = "0 mm"                    | blade.kerf | above zero
        kerf = "-2.8 mm"                 | blade.kerf | cannot be negative
        kerf = "0.31 mm"                 | blade.kerf | 275 passes | at most 40
        overlap = "2.8 mm"               | blade.overlap | leaves nothing
        tooth = "alternate-bevl"         | blade.tooth | did you mean `alternate-bevel`?
        tooth = "alternate-bevel" @ [blade] | blade.bevel | missing
        powered = 1                      | blade.powered | `powered = true`
        highest = "127 mm"               | blade.highest | less than half the diameter
        highest = "17 mm"                | blade.highest | 18.00 mm over the table
        travel = "79 mm"                 | blade.travel | needs 80.15 mm of travel
        shortest_strip = "191 mm"        | sled.shortest_strip | strips 190.00 mm long
        longest_strip = "229 mm"         | sled.longest_strip | strips 230.00 mm long
        longest_strip = "70 mm" @ shortest_strip | `shortest_strip` is above `longest_strip`
        widest_block = "2 mm"            | sled.widest_block | 3.00 mm thick
        height_correction = "-6 mm"      | sled.height_correction | no height
        height_correction = "6 mm"       | sled.height_correction | cuts strips 12.00 mm deep through
        farthest = "4 mm" @ nearest      | stop.nearest | `nearest` is above `farthest`
        [stop] -> [stopp]                | did you mean `stop`?
        [stop] -> [halt]                 | stop: this is missing | nothing places the first notch
        slots = []                       | rack.slots | at least one slot
        slots ->  @ [rack]               | rack.slots | missing
        slots = ["20"] @ slots           | rack.slots[0] | no unit
        slots = ["0 mm"] ;; measured ->  @ slots | rack.slots[0] | above zero
        slots = ["20 in"] ;; measured = ["20 mm"] @ measured | rack.measured[0] | cannot measure
        measured = ["20 mm"]             | rack.measured | 1 measured distances for 8 slots
        "#,
    );
    check_profiles(
        "stop-sled",
        command,
        r#"
        bevel = "50 deg"                 | blade.bevel | below 45 deg
        swing = "90 deg"                 | fence.swing | lies along the blade | less than 90 deg
        swing = "-5 deg"                 | fence.swing | cannot be negative
        swing = "5 mm"                   | fence.swing | not a unit of angle
        swing = 45                       | fence.swing | no unit
        swing -> swings = "5 deg"        | fence.swings | did you mean `swing`?
        [fence] -> [fences]              | did you mean `fence`?
        bevel = "15 mm"                  | blade.bevel | not a unit of angle
        nearest = "13.5 mm" ;; [spacers] ->  ;; tolerance ->  @ nearest | notch 1 | 13.40 mm
        farthest = "200 mm" ;; [spacers] ->  ;; tolerance ->  @ farthest | notch 6 | 213.40 mm
        farthest = "200 mm"              | stop.farthest | notch 6
        kerf = "2.4 mm" ;; nearest = "13.6 mm" ;; [spacers] ->  ;; tolerance ->  @ nearest | 13.48 mm to 14.13 mm
        "#,
    );
    check_profiles(
        "paring-guides",
        "machine check own.toml",
        r#"
        angles = ["90 deg"]              | guides.angles[0] | between 0 and 90
        angles = []                      | guides.angles | at least one
        "#,
    );
}

#[test]
fn routers() {
    check_profiles(
        "small-router",
        "notch job.toml -o kept.nc --machine own.toml",
        r#"
        x ->  @ [travel]                 | travel.x | missing
        fastest_feed ->  @ [travel]      | travel.fastest_feed | missing | "2500 mm/min"
        x = "200 mm"                     | travel.x | X axis | from 0.00 mm to 200.00 mm
        y = "40 mm"                      | travel.y | Y axis
        z = "13 mm"                      | travel.z | Z axis
        fastest_feed = "0.4 mm/min"      | travel.fastest_feed | 1 mm/min to 100 m/min
        fastest_feed = "2500 mm"         | travel.fastest_feed | not a unit of feed
        acceleration = "0 mm/s2"         | travel.acceleration | this must be 1 mm/s2
        diameter = "3.1 mm"              | tool.diameter | 3.10 mm does not go into a notch 3.05 mm
        diameter = "0.02 mm" ;; wall_allowance = "0.01 mm" @ diameter | hundreds of passes
        flutes = 0                       | tool.flutes | 1 to 8
        flute_length = "5.9 mm"          | tool.flute_length | 6.00 mm deep
        slowest = "30000 rpm"            | spindle.slowest | `slowest` is above `fastest`
        speed = "0.2 rpm"                | spindle.speed | 1 rpm to 200000 rpm
        speed = "15999.5 rpm"            | spindle.speed | a part of a turn
        spin_up = "0 s"                  | spindle.spin_up | 0.1 s to 60 s
        chip_load = "0 mm"               | cutting.chip_load | above zero
        chip_load = "0.025"              | cutting.chip_load | no unit
        chip_load = "0.001 mm" ;; slowest = "10 rpm" ;; speed = "10 rpm" @ chip_load | less than 1 mm/min
        plunge_feed = "0.1 mm/min"       | cutting.plunge_feed | 1 mm/min
        depth_per_pass = "0.01 mm"       | cutting.depth_per_pass | 0.06 mm or more
        run_out = "0 mm"                 | cutting.run_out | 0.5 mm to
        run_out = "6.1 mm" @ clear_beside | fixture.clear_beside | needs 8.10 mm | leaves 8.00 mm
        acceleration = "20 mm/s2" @ clear_beside | needs 12.74 mm beside | leaves 8.00 mm
        safe_height = "4.5 mm"           | cutting.safe_height | clamps 4.00 mm high | 5.00 mm or more
        wall_allowance = "1.1 mm"        | cutting.wall_allowance | more than half
        wall_allowance = "0 mm"          | cutting.wall_allowance | above zero
        widest_bundle = "2.9 mm"         | fixture.widest_bundle | 3.00 mm thick
        decimals = 2                     | controller.decimals | 3 to 4
        dwell = "minutes"                | controller.dwell | seconds, milliseconds
        program_end = "M0"               | controller.program_end | M2, M30
        longest_line = 10                | controller.longest_line | 40 to 256
        flute_length = "10 mm" ;; stick_out = "9.9 mm" @ stick_out | tool.stick_out | edges alone are longer
        "#,
    );
}

/// The small router with everything said that may be left out.
#[test]
fn routers_with_all_that_may_be_said() {
    let more = [
        ("[tool]", "material = \"carbide\""),
        (
            "[cutting]",
            "floor_allowance = \"0.2 mm\"\nreturns = \"cutting\"\nspring_pass = true\nshort_ways = false\nchip_thinning = false\nmost_deflection = \"0.02 mm\"",
        ),
        (
            "[fixture]",
            "single = false\nkey_x = \"40 mm\"\nkey_error = \"0.03 mm\"\nbacker_front = \"4 mm\"\nbacker_back = \"0 mm\"",
        ),
        (
            "[controller]",
            "dialect = \"full\"\nwork_zero = true\ncancels = true",
        ),
    ];
    let mut text = shipped("small-router").to_owned();
    for (table, lines) in more {
        let at = text.find(table).unwrap();
        let end = at + text[at..].find('\n').unwrap();
        text.insert_str(end, &format!("\n{lines}"));
    }
    text.push_str("[measured]\nnotch_programmed = \"3.05 mm\"\nnotch_measured = \"3.06 mm\"\n");
    text.push_str("[[fixture.clamps]]\nname = \"clamp\"\nx_from = \"300 mm\"\nx_to = \"310 mm\"\ny_from = \"0 mm\"\ny_to = \"5 mm\"\ntop = \"9 mm\"\n");
    check_profile(
        &text,
        "notch job.toml -o kept.nc --machine own.toml",
        r#"
        single = "yes"                   | fixture.single | `single = true`
        key_error ->  @ [fixture]        | fixture.key_error | missing
        x = "120 mm" ;; key_x = "119 mm" @ x | travel.x | no notch that is already cut can lie on the key
        x = "120 mm" ;; key_x ->  ;; key_error ->  @ x | travel.x | a key bar (fixture.key_x and fixture.key_error)
        backer_front = "58 mm" @ widest_bundle | fixture.widest_bundle | 2.00 mm
        backer_front = "-1 mm"           | fixture.backer_front | cannot be negative
        floor_allowance = "1.6 mm"       | cutting.floor_allowance | more than 1.50 mm
        returns = "in air"               | cutting.returns | did you mean `in-air`?
        spring_pass = 2                  | cutting.spring_pass | `spring_pass = true`
        stick_out = "9 mm"               | tool.stick_out | edges alone are longer
        stick_out = "10 mm" ;; clamp_height = "4.5 mm" @ stick_out | tool.stick_out | holder is 4.00 mm above | 10.50 mm or more
        holder_diameter = "0 mm"         | tool.holder_diameter | above zero
        x_to = "300 mm" @ x_from         | fixture.clamps[0].x_from | a clamp has a width
        material = "wood"                | tool.material | carbide, steel
        dialect = "ful"                  | controller.dialect | did you mean `full`?
        notch_measured = "4 mm"          | measured.notch_measured | 0.95 mm off
        notch_measured = "2.52 mm"       | measured.notch_measured | 0.53 mm off
        most_deflection = "0 mm"         | cutting.most_deflection | above zero
        x_from = "311 mm"                | `x_from` is above `x_to`
        top ->  @ [[fixture.clamps]]     | top | missing
        x_from = "40 mm" ;; top = "2 mm" @ [[fixture.clamps]] | fixture.clamps[0] | clamp stands in the way of the tool or its holder
        "#,
    );
}

#[test]
fn lasers() {
    check_profiles(
        "tube-laser",
        "outline job.toml --what strips -o kept.nc --machine own.toml",
        r#"
        kerf = "-0.1 mm"                 | laser.kerf | cannot be negative
        kerf = "3.2 mm" ;; gap = "7 mm" @ kerf | laser.kerf | no room for the kerf
        thickest = "2.9 mm"              | laser.thickest | 3.00 mm | 2.90 mm
        gap = "0.6 mm"                   | sheet.gap | 0.82 mm or more
        length = "240 mm"                | sheet.length | 230.16 mm along the grain
        width = "20 mm" @ width          | sheet.width | 7.84 mm
        outlines = 0                     | colours.outlines | 1 to 255
        letters = "red"                  | colours.letters | type string
        "#,
    );
}
