//! Reads a picture: its words, their places, its lines.

use std::fs;

use crate::folder::Folder;
use crate::run::stdout;

/// What stands in the text elements of an SVG file, in order.
pub(crate) fn words(svg: &str) -> Vec<String> {
    let texts = svg.split("<text").skip(1);
    texts
        .map(|text| {
            let inner = text.split_once('>').unwrap().1;
            unescaped(inner.split_once("</text>").unwrap().0.trim())
        })
        .collect()
}

pub(crate) fn unescaped(text: &str) -> String {
    text.replace("&apos;", "'")
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&amp;", "&")
}

/// The picture of a command that gives a result; by a name that no other test uses.
pub(crate) fn picture(name: &str, arguments: &[&str]) -> String {
    let folder = Folder::new(&format!("cli-picture-{name}"));
    let path = folder.path().join("picture.svg");
    let picture = ["--picture", path.to_str().unwrap()];
    stdout(&[arguments, &picture].concat());
    fs::read_to_string(path).unwrap()
}

/// An attribute of an SVG element as a number.
pub(crate) fn number(head: &str, key: &str) -> f64 {
    let from = head.split_once(&format!(" {key}=\"")).unwrap().1;
    from.split_once('"').unwrap().0.parse().unwrap()
}

/// Left, top, right, bottom of a text, by a letter width of 0.6 of its size.
pub(crate) fn boxes(svg: &str) -> Vec<(String, [f64; 4])> {
    let texts = svg.split("<text").skip(1);
    texts
        .map(|text| {
            let (head, inner) = text.split_once('>').unwrap();
            let word = unescaped(inner.split_once("</text>").unwrap().0.trim());
            let size = number(head, "font-size");
            let width = 0.6 * size * word.chars().count() as f64;
            let (x, y) = (number(head, "x"), number(head, "y"));
            if head.contains("rotate(270") {
                // Upright along the y axis; its y is the middle, its x the top of the letters.
                return (word, [x, y - width / 2.0, x + size, y + width / 2.0]);
            }
            let left = match head {
                head if head.contains("\"middle\"") => x - width / 2.0,
                head if head.contains("\"end\"") => x - width,
                _ => x,
            };
            (word, [left, y - size / 2.0, left + width, y + size / 2.0])
        })
        .collect()
}

/// Shade, thickness and points of a piece of a line.
pub(crate) type Stroke = (String, u32, Vec<(f64, f64)>);

/// Pieces of a picture that are neither grid nor axis nor a line to a label.
pub(crate) fn strokes(svg: &str) -> Vec<Stroke> {
    let lines = svg.split("<polyline").skip(1);
    let each = lines.map(|line| {
        let head = line.split_once("/>").unwrap().0;
        let value = |key: &str| {
            let from = head.split_once(&format!(" {key}=\"")).unwrap().1;
            from.split_once('"').unwrap().0.to_owned()
        };
        let points = value("points");
        let points = points.split_whitespace().map(|pair| {
            let (x, y) = pair.split_once(',').unwrap();
            (x.parse().unwrap(), y.parse().unwrap())
        });
        let thickness: u32 = value("stroke-width").parse().unwrap();
        (value("stroke"), thickness, points.collect())
    });
    each.filter(|(shade, _, _)| shade != "#181818" && shade != "#D6D6D6")
        .collect()
}

/// Left, top, right, bottom of the frame of the curves: what the grid's lines reach.
pub(crate) fn frame(svg: &str) -> [f64; 4] {
    let lines = svg.split("<line").skip(1);
    let grid: Vec<&str> = lines
        .map(|line| line.split_once("/>").unwrap().0)
        .filter(|head| head.contains("#D6D6D6"))
        .collect();
    let ends = |keys: [&str; 2]| {
        let each = grid
            .iter()
            .flat_map(|head| keys.map(|key| number(head, key)));
        let ends: Vec<f64> = each.collect();
        let least = ends.iter().copied().fold(f64::INFINITY, f64::min);
        (least, ends.into_iter().fold(0.0, f64::max))
    };
    let ((left, right), (top, bottom)) = (ends(["x1", "x2"]), ends(["y1", "y2"]));
    [left, top, right, bottom]
}

/// Where an axis figure stands: the one whose words are a number, on the bottom or the left.
pub(crate) fn tick_at(svg: &str, figure: &str, bottom: bool) -> f64 {
    let [left, _, _, low] = frame(svg);
    let found = boxes(svg).into_iter().find(|(word, [l, t, r, b])| {
        let on_the_bottom = (t + b) / 2.0 > low;
        word == figure && on_the_bottom == bottom && (bottom || (l + r) / 2.0 < left)
    });
    let [l, t, r, b] = found.unwrap().1;
    if bottom { (l + r) / 2.0 } else { (t + b) / 2.0 }
}
