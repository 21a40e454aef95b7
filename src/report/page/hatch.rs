//! Hatches that tell constructions apart without colour: one for each, in the order they come.

use std::fmt::Write as _;

use super::svg::Svg;

/// Hatches before they come again; labels tell apart what shares one.
const HATCHES: usize = 8;

/// The lines of a hatch on its tile, and a hue that helps.
const fn tile(which: usize) -> (&'static str, &'static str) {
    match which % HATCHES {
        0 => ("M-1 1L1 -1M0 8L8 0M7 9L9 7", "#2a78c8"),
        1 => ("M1 2h2M5 6h2", "#3a9a5c"),
        2 => ("M-1 -1L9 9M-1 7L1 9M7 -1L9 1", "#c8662a"),
        3 => ("M0 4H8", "#8a5cc0"),
        4 => ("M4 0V8", "#b8912a"),
        5 => ("M0 8L8 0M0 0L8 8", "#2a9aa0"),
        6 => ("M0 4H8M4 0V8", "#c04a78"),
        _ => ("M0 2H4M4 6H8", "#70806a"),
    }
}

/// Hatches for the first so many constructions of a drawing.
pub(super) fn define(svg: &mut Svg, how_many: usize) {
    let mut out = String::new();
    for which in 0..how_many {
        let (lines, hue) = tile(which);
        let _ = write!(
            out,
            "<pattern id=\"{}-h{which}\" width=\"8\" height=\"8\" patternUnits=\"userSpaceOnUse\"><path d=\"M0 0H8V8H0Z\" fill=\"{hue}\" \
             fill-opacity=\".16\"/><path d=\"{lines}\" stroke=\"{hue}\" stroke-width=\"1.1\" stroke-linecap=\"square\" fill=\"none\"/></pattern>",
            svg.id
        );
    }
    svg.define(&out);
}

/// How an area of that construction is filled.
pub(super) fn fill(svg: &Svg, which: usize) -> String {
    format!("url(#{}-h{which})", svg.id)
}
