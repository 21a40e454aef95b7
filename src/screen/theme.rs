//! Colours: the sixteen named ones, so that the person's own palette holds, or none at all under NO_COLOR.
//! Nothing is said by colour alone: every mark has a word, a sign or a height beside it.

use ratatui::style::{Color, Modifier, Style};

/// Heights of the single-hue scale, from least to greatest.
pub const HEIGHTS: [char; 8] = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];

/// The styles of the screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Theme {
    colour: bool,
}

impl Theme {
    /// The sixteen named colours.
    pub const fn sixteen() -> Self {
        Self { colour: true }
    }
    /// Attributes only.
    pub const fn plain() -> Self {
        Self { colour: false }
    }
    const fn ink(self, colour: Color) -> Style {
        Style::new().fg(if self.colour { colour } else { Color::Reset })
    }
    pub const fn text(self) -> Style {
        self.ink(Color::Reset)
    }
    /// Numbers that are not of the dials as they stand, and lesser words.
    pub const fn dim(self) -> Style {
        self.ink(Color::Reset).add_modifier(Modifier::DIM)
    }
    pub const fn title(self) -> Style {
        self.ink(Color::Reset).add_modifier(Modifier::BOLD)
    }
    /// A limit not met: always with a word and a sign.
    pub const fn broken(self) -> Style {
        self.ink(Color::Red).add_modifier(Modifier::BOLD)
    }
    pub const fn good(self) -> Style {
        self.ink(Color::Green)
    }
    /// What the keys act on.
    pub const fn chosen(self) -> Style {
        self.ink(Color::Reset).add_modifier(Modifier::REVERSED)
    }
    pub const fn key(self) -> Style {
        self.ink(Color::Cyan).add_modifier(Modifier::BOLD)
    }
    /// The single hue of maps and bars.
    pub const fn shade(self) -> Style {
        self.ink(Color::Cyan)
    }
    pub const fn boundary(self) -> Style {
        self.ink(Color::Yellow).add_modifier(Modifier::BOLD)
    }
    pub const fn you(self) -> Style {
        self.ink(Color::Yellow).add_modifier(Modifier::BOLD)
    }
    pub const fn pin(self) -> Style {
        self.ink(Color::Magenta).add_modifier(Modifier::BOLD)
    }
    pub const fn rule(self) -> Style {
        self.ink(Color::DarkGray)
    }
    /// Colour for canvas shapes.
    pub const fn hue(self, colour: Color) -> Color {
        if self.colour { colour } else { Color::Reset }
    }
}

/// The glyph of a value on the scale from least to greatest.
pub fn height(value: f64, least: f64, most: f64) -> char {
    if !value.is_finite() {
        return if value > 0.0 { HEIGHTS[7] } else { HEIGHTS[0] };
    }
    let span = most - least;
    let at = if span > 0.0 { (value - least) / span } else { 0.5 };
    HEIGHTS[(at * 8.0).floor().clamp(0.0, 7.0) as usize]
}
