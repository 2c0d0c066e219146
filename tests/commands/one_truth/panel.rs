//! Strips, pieces and the wood they come from.

use super::machines::same_figures;
use super::readers::{Contour, csv, dxf, is, lines, list, number, says, svg};
use super::{Built, Compared};
use serde_json::Value;

/// Counts and lengths of strips: all commands, all sheets, and arithmetic of the tests where the grid is square.
pub(super) fn strips(built: &Built<'_>, compared: &mut Compared) {
    let shown = &built.shown;
    let stock = built.json("stock").unwrap();
    let needed: usize = list(&stock, "needs")
        .iter()
        .filter(|need| need["kind"] == "strip")
        .map(count)
        .sum();
    let sled = built.json("sled");
    let mut all = 0;
    for kind in list(shown, "strips") {
        all += count(kind);
        let length = built.printed(&kind["length_mm"]);
        let [own, labels] =
            ["count", "strips"].map(|key| kind[key].to_string().trim_matches('"').to_owned());
        // Sheets tell bundles; strips that ride along with others are told with these there.
        let bundles = sled.as_ref().map_or(&[][..], |sled| list(sled, "bundles"));
        if let Some(bundle) = bundles
            .iter()
            .find(|bundle| bundle["strips"] == kind["strips"])
        {
            for key in ["length_mm", "count"] {
                built.check(bundle[key] == kind[key], || {
                    format!("{key} of {labels}: {bundle}")
                });
            }
            let mut row: Vec<String> = labels.split(' ').map(str::to_owned).collect();
            row.push(length);
            // A list of many labels breaks over lines of paper.
            let printed = row.len() > 2 || says(&built.document, &row);
            built.check(printed && says(&built.tables, &row), || {
                format!("{own} {row:?}")
            });
        }
        let long = |need: &&Value| {
            need["kind"] == "strip"
                && (number(&need["length_mm"]) - number(&kind["length_mm"])).abs() < 1e-6
        };
        built.check(list(&stock, "needs").iter().any(|need| long(&need)), || {
            format!("{kind}")
        });
        compared.strips += 1;
    }
    built.check(needed == all, || "needed == all".to_owned());
    if let (Some(job), Some(sled)) = (&built.case.square, &sled) {
        by_arithmetic(built, job, sled);
    }
}

fn by_arithmetic(built: &Built<'_>, job: &crate::support::jobs::Job, sled: &Value) {
    for kind in job.kinds() {
        let of_kind = list(sled, "bundles")
            .iter()
            .filter(|bundle| bundle["family"] == kind.name);
        let mut seen = 0;
        for bundle in of_kind {
            seen += count(bundle);
            let close = |value: &Value, mm: f64| (number(value) - mm).abs() < 1e-6;
            built.check(close(&bundle["length_mm"], kind.length), || {
                format!("{bundle}")
            });
            let notches = list(bundle, "notches");
            built.check(notches.len() == kind.centres.len(), || {
                "notches.len() == kind.centres.len()".to_owned()
            });
            for (notch, centre) in notches.iter().zip(&kind.centres) {
                built.check(close(&notch["centre_mm"], *centre)
                        && close(&notch["depth_mm"], kind.notch_depth), || "close(&notch['centre_mm'], *centre) && close(&notch['depth_mm'], kind.notch_dept".to_owned());
            }
        }
        built.check(seen == kind.count, || "seen == kind.count".to_owned());
    }
}

fn count(value: &Value) -> usize {
    usize::try_from(value["count"].as_u64().unwrap()).unwrap()
}

/// Where a contour's notches begin and end along it, from its left end, the kerf taken off: its lines that are
/// neither at its lowest nor at its highest; and its length and height.
fn comb(contour: &Contour, kerf: f64) -> (f64, f64, Vec<[f64; 2]>) {
    let ends = |axis: usize| {
        let of = || contour.iter().map(move |point| point[axis]);
        [of().fold(f64::MAX, f64::min), of().fold(f64::MIN, f64::max)]
    };
    let ([left, right], [low, high]) = (ends(0), ends(1));
    let next = contour.iter().skip(1).chain(contour.first());
    let floors = contour.iter().zip(next).filter(|(a, b)| {
        (a[1] - b[1]).abs() < 1e-9 && (a[1] - low).abs() > 1e-3 && (a[1] - high).abs() > 1e-3
    });
    // The beam's middle runs half a kerf outside the part: less of a notch, more of an end.
    let from_end = |x: f64| x - left - kerf / 2.0;
    let mut notches: Vec<[f64; 2]> = floors
        .map(|(a, b)| {
            [
                from_end(a[0].min(b[0])) - kerf / 2.0,
                from_end(a[0].max(b[0])) + kerf / 2.0,
            ]
        })
        .collect();
    notches.sort_by(|a, b| a[0].total_cmp(&b[0]));
    (right - left - kerf, high - low - kerf, notches)
}

/// Drawings of strips hold the sled's notches; both kinds of drawing the same contours.
pub(super) fn outlines(built: &Built<'_>, compared: &mut Compared) {
    let (Some(laser), Some(sled)) = (built.json("laser"), built.json("sled")) else {
        return;
    };
    // A shorter strip that is notched with longer ones is cut to its own length by a laser.
    if built.case.toml.contains("bundling") {
        return;
    }
    let kerf = number(&laser["kerf_mm"]);
    built.alone(&["outline", "--what", "strips", "-o", "strips.dxf"], "json");
    let mut wanted: Vec<&Value> = Vec::new();
    for bundle in list(&sled, "bundles") {
        wanted.extend((0..count(bundle)).map(|_| bundle));
    }
    for sheet in list(&laser, "files") {
        let file = sheet["path"].as_str().unwrap();
        let text = built.bench.read(&format!("out/{file}"));
        built.check(text == built.bench.read(file), || format!("{file} differs"));
        let contours = dxf(&text);
        let twin = svg(&built
            .bench
            .read(&format!("out/{}", file.replace(".dxf", ".svg"))));
        same_contours(built, &contours, &twin, number(&laser["sheet_mm"][1]));
        let outlines: Vec<&Contour> = contours
            .iter()
            .filter(|(layer, _)| layer == "OUTLINES")
            .map(|(_, contour)| contour)
            .collect();
        built.check(outlines.len() == list(sheet, "parts").len(), || {
            "outlines.len() == list(sheet, 'parts').len()".to_owned()
        });
        for outline in outlines {
            let found = wanted
                .iter()
                .position(|bundle| is_drawn(bundle, outline, kerf));
            let Some(found) = found else {
                built.check(false, || format!("no strip is {:?}", comb(outline, kerf)));
                continue;
            };
            wanted.swap_remove(found);
            compared.outlines += 1;
        }
    }
    built.check(wanted.is_empty(), || format!("not drawn: {wanted:?}"));
}

/// A slanted notch is drawn wider, as a beam cuts square: about the same middle.
fn is_drawn(bundle: &Value, outline: &Contour, kerf: f64) -> bool {
    let (length, _, mut notches) = comb(outline, kerf);
    // From its end as drawn, or from the other one: centre, width as drawn, and whether it is cut square.
    let mut own: Vec<(f64, f64, bool)> = list(bundle, "notches")
        .iter()
        .map(|notch| {
            let width = notch.get("drawn_width_mm").unwrap_or(&notch["width_mm"]);
            let square = (number(&notch["angle_deg"]) - 90.0).abs() < 1e-9;
            (number(&notch["centre_mm"]), number(width), square)
        })
        .collect();
    own.sort_by(|a, b| a.0.total_cmp(&b.0));
    // Two mates at one place have one slot there in each face.
    let at_one_place = |a: f64, b: f64| (a - b).abs() < 1e-4;
    own.dedup_by(|a, b| at_one_place(a.0, b.0));
    notches.dedup_by(|a, b| at_one_place(a[0] + a[1], b[0] + b[1]));
    let counts_agree = notches.len() == own.len();
    let mut alike = |turned: bool| {
        if turned {
            own.iter_mut().for_each(|notch| notch.0 = length - notch.0);
        }
        own.sort_by(|a, b| a.0.total_cmp(&b.0));
        own.iter()
            .zip(&notches)
            .all(|((centre, width, square), [from, to])| {
                let wide = to - from - width;
                let as_wide = if *square {
                    wide.abs() < 2e-5
                } else {
                    wide > -2e-5
                };
                (f64::midpoint(*from, *to) - centre).abs() < 2e-5 && as_wide
            })
    };
    (length - number(&bundle["length_mm"])).abs() < 2e-5
        && counts_agree
        && (alike(false) || alike(true))
}

fn same_contours(
    built: &Built<'_>,
    dxf: &[(String, Contour)],
    svg: &[(String, Contour)],
    height: f64,
) {
    built.check(dxf.len() == svg.len(), || {
        "dxf.len() == svg.len()".to_owned()
    });
    let mut rest: Vec<&(String, Contour)> = svg.iter().collect();
    for (layer, contour) in dxf {
        let twin = |(own, points): &&(String, Contour)| {
            own == layer
                && points.len() == contour.len()
                && points
                    .iter()
                    .zip(contour)
                    .all(|(a, b)| (a[0] - b[0]).abs() < 2e-6 && (height - a[1] - b[1]).abs() < 2e-6)
        };
        let at = rest.iter().position(twin);
        built.check(at.is_some(), || {
            format!("only the DXF has {layer} {contour:?}")
        });
        at.map(|at| rest.swap_remove(at));
    }
}

/// Lengths, angles, stops and counts of pieces; the picture shows as many of their shapes.
pub(super) fn pieces(built: &Built<'_>, compared: &mut Compared) {
    let Some(plan) = built.json("pieces") else {
        return;
    };
    same_figures(built, &["pare"], &plan);
    let sheet = built.text("pieces");
    let rows = csv(&built.bench.read("out/pieces.csv"));
    let shown = &built.shown;
    let all = list(&plan, "pieces");
    built.check(
        [rows.len(), list(shown, "pieces").len()] == [all.len(); 2],
        || "[rows.len(), list(shown, 'pieces').len()] == [all.len(); 2]".to_owned(),
    );
    let blocks = block_angles(&lines_of_blocks(built));
    for (at, piece) in all.iter().enumerate() {
        let [row, glance] = [
            &serde_json::to_value(&rows[at]).unwrap(),
            &list(shown, "pieces")[at],
        ];
        let figure = |row: &Value, key: &str, mm: &Value, digits: f64| {
            let told: f64 = row[key]
                .as_str()
                .unwrap_or_else(|| panic!("{key}: {row}"))
                .parse()
                .unwrap();
            built.check((told - number(mm)).abs() <= 0.5 * digits + 1e-9, || {
                format!("{key} {told} {mm}")
            });
        };
        figure(
            row,
            "length_over_points_mm",
            &piece["length_over_points_mm"],
            0.001,
        );
        figure(row, "rough_length_mm", &piece["rough_length_mm"], 0.001);
        built.check(
            row["count"].as_str().unwrap().parse().ok() == piece["count"].as_u64(),
            || "row['count'].as_str().unwrap() == piece['count'].to_string()".to_owned(),
        );
        built.check(
            [
                &glance["count"],
                &glance["length_mm"],
                &glance["rough_length_mm"],
            ] == [
                &piece["count"],
                &piece["length_over_points_mm"],
                &piece["rough_length_mm"],
            ],
            || {
                "[ &glance['count'], &glance['length_mm'], &glance['rough_length_mm'] ] == [ &pie"
                    .to_owned()
            },
        );
        for (end, letter) in list(piece, "ends").iter().zip(["a", "b"]) {
            for facet in list(end, "facets") {
                let key =
                    |what: &str| format!("end_{letter}_{}_{what}", facet["side"].as_str().unwrap());
                figure(row, &key("stop_mm"), &facet["stop_mm"], 0.001);
                figure(row, &key("shoulder_mm"), &facet["shoulder_mm"], 0.001);
                figure(
                    row,
                    &key("block_angle_deg"),
                    &facet["block_angle_deg"],
                    0.0001,
                );
                let stop = built.printed(&facet["stop_mm"]);
                for (what, rows) in [
                    ("text", &sheet),
                    ("page", &built.tables),
                    ("document", &built.document),
                ] {
                    built.check(
                        rows.iter()
                            .any(|row| row.iter().any(|word| is(word, &stop))),
                        || format!("the {what} has no stop {stop}"),
                    );
                }
                let angle = number(&facet["block_angle_deg"]);
                let at_hand = [
                    90.0, 15.0, 22.5, 30.0, 45.0, 52.5, 60.0, 67.5, 75.0, 112.5, 135.0,
                ];
                if at_hand.iter().all(|own| (own - angle).abs() > 1e-3) {
                    let drawn = blocks.iter().any(|drawn| (drawn - angle).abs() < 2e-4);
                    built.check(drawn, || format!("no block is drawn with {angle}"));
                    compared.blocks += 1;
                }
            }
        }
        compared.pieces += 1;
    }
    in_the_picture(built, all);
}

fn lines_of_blocks(built: &Built<'_>) -> Vec<Contour> {
    let names = built.bench.contents().into_keys().filter_map(|path| {
        let name = path.file_name()?.to_str()?.to_owned();
        (name.starts_with("guide-blocks") && name.ends_with(".dxf")).then_some(name)
    });
    let drawn = names.flat_map(|name| dxf(&built.bench.read(&format!("out/{name}"))));
    drawn
        .filter(|(layer, _)| layer == "OUTLINES")
        .map(|(_, contour)| contour)
        .collect()
}

/// Angles between the sides of contours, degrees. The way of a beam round a sharp corner cuts it off, so that
/// its sides may not follow each other.
fn block_angles(contours: &[Contour]) -> Vec<f64> {
    let mut angles = Vec::new();
    for contour in contours {
        let next = contour.iter().skip(1).chain(contour.first());
        let ways = contour
            .iter()
            .zip(next)
            .map(|(a, b)| (b[1] - a[1]).atan2(b[0] - a[0]));
        let ways: Vec<f64> = ways.collect();
        for (at, way) in ways.iter().enumerate() {
            for other in &ways[at + 1..] {
                let turn = (other - way).to_degrees().rem_euclid(180.0);
                angles.extend([turn, 180.0 - turn]);
            }
        }
    }
    angles
}

/// A contour's area and the way round it.
fn measures(contour: &Contour) -> [f64; 2] {
    let next = || contour.iter().skip(1).chain(contour.first());
    let area: f64 = contour
        .iter()
        .zip(next())
        .map(|(a, b)| a[0] * b[1] - a[1] * b[0])
        .sum();
    let round: f64 = contour
        .iter()
        .zip(next())
        .map(|(a, b)| (a[0] - b[0]).hypot(a[1] - b[1]))
        .sum();
    [area.abs() / 2.0, round]
}

/// The picture of the panel shows every piece once, true to size.
fn in_the_picture(built: &Built<'_>, pieces: &[Value]) {
    let picture = svg(&built.bench.read("out/panel.svg"));
    let faces = picture.iter().filter(|(class, _)| class == "piece face");
    let mut seen: Vec<[f64; 2]> = faces.map(|(_, contour)| measures(contour)).collect();
    let in_cells: usize = pieces.iter().map(count).sum();
    built.check(seen.len() >= in_cells, || {
        format!("{} of {in_cells}", seen.len())
    });
    for piece in pieces
        .iter()
        .filter(|piece| piece.get("trimmed_from").is_none())
    {
        let points = list(piece, "outline_mm")
            .iter()
            .map(|point| [0, 1].map(|axis| number(&point[axis])));
        let [area, round] = measures(&points.collect());
        for _ in 0..count(piece) {
            let same = |one: &[f64; 2]| {
                (one[0] - area).abs() < 0.002 * round && (one[1] - round).abs() < 0.02
            };
            let at = seen.iter().position(same);
            built.check(at.is_some(), || format!("the picture lacks {piece}"));
            at.map(|at| seen.swap_remove(at));
        }
    }
}

/// The cut list as data, as text and on the page.
pub(super) fn sticks(built: &Built<'_>, compared: &mut Compared) {
    let stock = built.json("stock").unwrap();
    same_figures(built, &["stock"], &stock);
    let rows = csv(&built.bench.read("out/stock.csv"));
    let mut cuts = list(&stock, "sticks")
        .iter()
        .flat_map(|stick| list(stick, "cuts").iter().map(move |cut| (stick, cut)));
    for row in &rows {
        let (stick, cut) = cuts.next().unwrap();
        built.check(row["part"] == cut["what"].as_str().unwrap(), || {
            "row['part'] == cut['what'].as_str().unwrap()".to_owned()
        });
        for (key, mm) in [
            ("length_mm", &cut["length_mm"]),
            ("left_mm", &stick["left_mm"]),
            ("stock_mm", &stick["stock_mm"]),
        ] {
            built.check(
                (row[key].parse::<f64>().unwrap() - number(mm)).abs() < 0.00051,
                || format!("{key} {row:?}"),
            );
        }
        compared.sticks += 1;
    }
    built.check(cuts.next().is_none(), || "cuts.next().is_none()".to_owned());
    let sheet = lines(&built.bench.read("out/stock.txt"));
    for need in list(&stock, "needs") {
        let [thick, deep] = [0, 1].map(|at| built.printed(&need["section_mm"][at]));
        let [own, spare] = ["count", "spare"].map(|key| need[key].to_string());
        let figures = [thick, deep, built.printed(&need["length_mm"]), own, spare];
        for (what, rows) in [
            ("text", &sheet),
            ("page", &built.tables),
            ("document", &built.document),
        ] {
            built.check(says(rows, &figures), || {
                format!("the {what} has no row {figures:?}")
            });
        }
    }
}
