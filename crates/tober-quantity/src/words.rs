//! The trade's words, which differ on two sides of an ocean. GLOSSARY.md says what each means.

use crate::WordSet;

/// A thing or a piece of work for which the trade has a word of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Word {
    /// Unfolding the ride.
    BuildUp,
    /// Folding it.
    PullDown,
    /// The piece of ground it stands on.
    Pitch,
    /// Timber between ground and foot.
    Packing,
    /// Who leads the crew.
    Chief,
    /// What the trailer is pulled by.
    HitchBar,
    /// What carries a seat out from the turntable.
    Arm,
    /// What turns.
    Turntable,
    /// What riders sit in.
    Seat,
    /// What keeps a pin in its hole.
    Clip,
}

impl Word {
    /// Every word.
    pub const ALL: [Self; 10] = [
        Self::BuildUp,
        Self::PullDown,
        Self::Pitch,
        Self::Packing,
        Self::Chief,
        Self::HitchBar,
        Self::Arm,
        Self::Turntable,
        Self::Seat,
        Self::Clip,
    ];

    /// Those that mean one thing wherever they stand in a sentence.
    pub const IN_SENTENCES: [Self; 5] =
        [Self::BuildUp, Self::PullDown, Self::Packing, Self::Chief, Self::Clip];

    /// The word in files and code, and on each side: code, gb, us.
    fn row(self) -> [&'static str; 3] {
        match self {
            Self::BuildUp => ["build-up", "build-up", "set-up"],
            Self::PullDown => ["pull-down", "pull-down", "tear-down"],
            Self::Pitch => ["pitch", "pitch", "lot"],
            Self::Packing => ["packing", "packing", "blocking"],
            Self::Chief => ["chief", "chief", "foreman"],
            Self::HitchBar => ["hitch bar", "drawbar", "tongue"],
            Self::Arm => ["arm", "arm", "sweep"],
            Self::Turntable => ["turntable", "centre", "center"],
            Self::Seat => ["seat", "car", "tub"],
            Self::Clip => ["clip", "R-clip", "hairpin"],
        }
    }

    /// The word in files and code, which does not change.
    pub fn in_code(self) -> &'static str {
        self.row()[0]
    }
}

impl WordSet {
    /// The word of this side.
    pub fn word(self, word: Word) -> &'static str {
        let [_, gb, us] = word.row();
        match self {
            Self::Gb => gb,
            Self::Us => us,
        }
    }
    /// Several of them. Work has no plural here: "packing" stays as it is.
    pub fn plural(self, word: Word) -> String {
        match word {
            Word::Packing => self.word(word).to_owned(),
            Word::Chief if self == Self::Us => "foremen".to_owned(),
            Word::Pitch if self == Self::Gb => "pitches".to_owned(),
            _ => format!("{}s", self.word(word)),
        }
    }
    /// The word at the beginning of a sentence.
    pub fn capitalised(self, word: Word) -> String {
        let mut letters = self.word(word).chars();
        letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hand_words_of_both_sides() {
        assert_eq!(WordSet::Gb.word(Word::Packing), "packing");
        assert_eq!(WordSet::Us.word(Word::Packing), "blocking");
        assert_eq!(WordSet::Us.plural(Word::Chief), "foremen");
        assert_eq!(WordSet::Gb.plural(Word::Pitch), "pitches");
        assert_eq!(WordSet::Gb.plural(Word::Seat), "cars");
        assert_eq!(WordSet::Us.capitalised(Word::Turntable), "Center");
        assert_eq!(WordSet::Gb.capitalised(Word::Clip), "R-clip");
    }
}
