//! Stock that cannot be what a caliper says of it. Rows put it in place of `wood`.

use super::check_jobs;

#[test]
fn measured_stock() {
    check_jobs(
        r#"
        wood -> measured_thickness = "0 mm"      | strip.measured_thickness | leaves no wood
        wood -> measured_depth = "0 mm"          | strip.measured_depth | leaves no wood
        wood -> measured_thickness = "-3 mm"     | strip.measured_thickness | cannot be negative
        wood -> measured_thickness = 3.1         | strip.measured_thickness | no unit | "3.1 mm"
        wood -> measured_depth = "12.1 kg"       | strip.measured_depth | not a unit of length
        wood -> measured_thickness = "3.1 in"    | strip.measured_thickness | 78.74 mm measured where 3.00 mm is drawn | unit
        wood -> measured_thickness = "31 mm"     | strip.measured_thickness | other stock
        wood -> measured_thickness = "1.49 mm"   | strip.measured_thickness | other stock
        wood -> measured_depth = "24.1 mm"       | strip.measured_depth | other stock
        wood -> measured_depth = "99999999999 m" | strip.measured_depth | larger than anything
        wood -> measured_width = "3.1 mm"        | strip.measured_width | not known | did you mean `measured_depth`?
        wood -> measured_tickness = "3.1 mm"     | did you mean `measured_thickness`?
        thickness = "0 mm" ;; wood -> measured_thickness = "3.1 mm" @ thickness | strip.thickness | leaves no wood
        depth = "0 mm" ;; wood -> measured_depth = "12.1 mm" @ depth | strip.depth | leaves no wood
        depth = "2.2 mm" ;; wood -> measured_depth = "1.9 mm" @ measured_depth | strip.measured_depth | 1.90 mm deep keeps 0.95 mm | 2.00 mm deep or more
        wood -> measured_depth = "11.5 mm" ;; least_web -> keeps = ["1.02 mm", "10.98 mm"] @ measured_depth | strip.measured_depth | in stock 11.50 mm deep instead of 12.00 mm | do not fit: a strip keeps 0.98 mm | 11.77 mm deep or more
        wood -> measured_depth = "11.5 mm" ;; least_web -> keeps = ["5.75 mm", "5.75 mm"] @ keeps | strip.keeps | together 11.50 mm; the strips are drawn 12.00 mm deep | in proportion
        wood -> measured_depth = "11.5 mm" ;; least_web -> keeps = ["0 mm", "12 mm"] @ keeps | strip.keeps | keeps 0.00 mm at a node; at least 1.00 mm must stay
        pitch = "5.1 mm" ;; wood -> measured_thickness = "3.2 mm" @ pitch | grid.pitch | leaves 1.85 mm of wood between notches 3.25 mm wide
        "#,
    );
}
