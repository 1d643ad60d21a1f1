//! A run of labels as PDF: as many as asked for, each at its own size, on sheets to cut.

use crate::label::svg::{Drawing, OPEN_JAR, jar_left};
use crate::label_info::LabelInfo;

use super::pdf::{Flow, PdfError, Printing, Style};

/// Points in a millimetre.
const POINTS_PER_MM: f64 = 72.0 / 25.4;
/// Room between two labels, mm, so that a cut beside the line spoils only one.
const BETWEEN_MM: f64 = 3.0;
/// Free edge left, right and above, mm: more than what common printers cannot reach.
const EDGE_MM: f64 = 10.0;
/// Free edge below, with the line that says what the sheet is, mm.
const FOOT_MM: f64 = 14.0;
/// Greatest number of labels in one file.
pub const MOST_LABELS: u32 = 2_000;

/// Why labels could not be set on sheets.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum LabelPdfError {
    /// Not so many.
    #[error("the number of labels is from 1 to {MOST_LABELS}")]
    Count,
    /// A label is larger than the paper.
    #[error(
        "a label of {width:.0} × {height:.0} mm does not fit on the paper, which has room for {room_width:.0} × {room_height:.0} mm; make the label smaller, or its letters"
    )]
    TooLarge {
        /// Width of the label, mm.
        width: f64,
        /// Height of the label as drawn, mm.
        height: f64,
        /// Width that the paper has, mm.
        room_width: f64,
        /// Height that the paper has, mm.
        room_height: f64,
    },
    /// The file could not be made.
    #[error(transparent)]
    Pdf(#[from] PdfError),
}

/// Labels one beside the other, with lines to cut along; `title` and the count stand small at
/// the foot of each sheet. The same label gives the same bytes.
///
/// Print at 100 %: a sheet that the printer fits to the page changes the size of the letters.
pub fn labels_pdf<'p>(
    drawing: &Drawing,
    info: &LabelInfo,
    title: &str,
    count: u32,
    on: impl Into<Printing<'p>>,
) -> Result<Vec<u8>, LabelPdfError> {
    let on = on.into();
    if !(1..=MOST_LABELS).contains(&count) {
        return Err(LabelPdfError::Count);
    }
    let (width, height) = (points(info.width_mm), points(drawing.height_mm));
    let grid = |(page_width, page_height): (f32, f32)| {
        let room = (
            page_width - 2.0 * points(EDGE_MM),
            page_height - points(EDGE_MM + FOOT_MM),
        );
        (fitting(room, (width, height)), room)
    };
    let (short, long) = on.paper_size();
    let (upright, across_paper) = (grid((short, long)), grid((long, short)));
    // As many on a sheet as can be.
    let is_crosswise = sheet_holds(across_paper.0) > sheet_holds(upright.0);
    let ((across, down), room) = if is_crosswise { across_paper } else { upright };
    if across == 0 || down == 0 {
        let millimetres = |points: f32| f64::from(points) / POINTS_PER_MM;
        return Err(LabelPdfError::TooLarge {
            width: info.width_mm,
            height: drawing.height_mm,
            room_width: millimetres(room.0),
            room_height: millimetres(room.1),
        });
    }
    let mut flow = if is_crosswise {
        Flow::crosswise(on)?
    } else {
        Flow::new(on)?
    };
    let (left, top) = (points(EDGE_MM), points(EDGE_MM));
    for number in 0..count {
        let place = number % (across * down);
        if place == 0 && number > 0 {
            flow.new_page();
        }
        let gap = points(BETWEEN_MM);
        let x = left + (place % across) as f32 * (width + gap);
        let y = top + (place / across) as f32 * (height + gap);
        flow.frame((x, y), (width, height));
        for line in &drawing.lines {
            let (at_x, at_y) = (x + points(line.x_mm), y + points(line.y_mm));
            if line.jar {
                let size = points(line.size_mm);
                let jar_x = x + points(jar_left(line));
                for outline in OPEN_JAR {
                    let corners = outline
                        .iter()
                        .map(|(px, py)| (jar_x + px * size, at_y + py * size))
                        .collect();
                    flow.outline(corners, 0.08 * size);
                }
            }
            flow.text((at_x, at_y), &line.text, Style::plain(points(line.size_mm)));
        }
    }
    let footer = format!(
        "{title}. {count} labels of {:.0} × {:.0} mm; print at 100 %, then measure one",
        info.width_mm, drawing.height_mm
    );
    Ok(flow.finish(title, &footer)?)
}

fn points(millimetres: f64) -> f32 {
    (millimetres * POINTS_PER_MM) as f32
}

/// How many labels stand beside and below each other on a sheet, all lengths in points.
fn fitting(room: (f32, f32), label: (f32, f32)) -> (u32, u32) {
    let gap = points(BETWEEN_MM);
    // A hair's breadth for what rounding to points makes of a label as wide as the paper.
    let fit = |room: f32, one: f32| ((room + gap + 0.01) / (one + gap)).floor() as u32;
    (fit(room.0, label.0), fit(room.1, label.1))
}

const fn sheet_holds((across, down): (u32, u32)) -> u32 {
    across.saturating_mul(down)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::batch::workshop::Paper;
    use crate::label::svg::SetLine;

    fn drawing(height_mm: f64) -> Drawing {
        Drawing {
            svg: String::new(),
            lines: vec![SetLine {
                text: "Aqua".to_owned(),
                size_mm: 2.0,
                x_mm: 2.0,
                y_mm: 4.0,
                width_mm: 6.0,
                jar: true,
            }],
            needs_height_mm: height_mm,
            height_mm,
            fits: true,
        }
    }

    fn info(width_mm: f64) -> LabelInfo {
        LabelInfo {
            width_mm,
            ..LabelInfo::default()
        }
    }

    #[test]
    fn as_many_as_fit_stand_on_a_sheet() {
        // A4 is 210 × 297 mm (ISO 216): 190 × 273 mm are free. 3 labels of 61 mm and two gaps
        // take 189 mm, 6 of 43 mm and five gaps 273 mm.
        let room = (points(190.0), points(273.0));
        assert_eq!(fitting(room, (points(61.0), points(43.0))), (3, 6));
        assert_eq!(fitting(room, (points(62.0), points(44.0))), (2, 5));
        assert_eq!(fitting(room, room), (1, 1));
        // Labels of 100 × 60 mm: four upright, six on paper laid crosswise.
        let crosswise = (points(277.0), points(186.0));
        assert_eq!(fitting(room, (points(100.0), points(60.0))), (1, 4));
        assert_eq!(fitting(crosswise, (points(100.0), points(60.0))), (2, 3));
    }

    #[test]
    fn the_same_label_gives_the_same_bytes() {
        let make = || labels_pdf(&drawing(40.0), &info(58.0), "Wash", 20, Paper::UsLetter).unwrap();
        assert_eq!(make(), make());
    }

    #[test]
    fn what_does_not_fit_is_refused_in_words() {
        let error = labels_pdf(&drawing(40.0), &info(300.0), "Wash", 1, Paper::A4).unwrap_err();
        assert!(error.to_string().contains("300 × 40 mm"), "{error}");
        for count in [0, MOST_LABELS + 1] {
            let error = labels_pdf(&drawing(40.0), &info(58.0), "", count, Paper::A4);
            assert_eq!(error, Err(LabelPdfError::Count));
        }
    }
}
