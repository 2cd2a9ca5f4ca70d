//! The nearest known name to one that is not known.

/// The known name that takes fewest changes of a letter to reach, if that is few for its length.
///
/// A change is a letter put in, left out, altered, or swapped with its neighbour (the restricted
/// Damerau-Levenshtein distance); case, spaces, hyphens and underscores are not told apart. Names longer than 64 letters are not compared.
/// Of equally near names the first is given.
pub fn nearest<'k>(name: &str, known: &[&'k str]) -> Option<&'k str> {
    let name = plain(name);
    if name.is_empty() || name.len() > 64 {
        return None;
    }
    let allowed = (name.len() / 3).clamp(1, 4);
    let distances = known.iter().map(|word| (distance(&name, &plain(word)), *word));
    distances.filter(|(d, _)| *d <= allowed).min_by_key(|(d, _)| *d).map(|(_, word)| word)
}

fn plain(word: &str) -> Vec<char> {
    let same = |c: char| if matches!(c, '_' | ' ') { '-' } else { c };
    word.chars().take(65).flat_map(char::to_lowercase).map(same).collect()
}

fn distance(a: &[char], b: &[char]) -> usize {
    let mut before_last: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for i in 0..a.len() {
        let mut row = vec![i + 1];
        for j in 0..b.len() {
            let altered = last[j] + usize::from(a[i] != b[j]);
            let mut least = altered.min(last[j + 1] + 1).min(row[j] + 1);
            if i > 0 && j > 0 && a[i] == b[j - 1] && a[i - 1] == b[j] {
                least = least.min(before_last[j - 1] + 1);
            }
            row.push(least);
        }
        before_last = core::mem::replace(&mut last, row);
    }
    last[b.len()]
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn hand_nearest_names() {
        // One letter left out, two swapped, an underscore for a hyphen; and nothing near.
        assert_eq!(nearest("thicknes", &["length", "thickness"]), Some("thickness"));
        assert_eq!(nearest("foto", &["foot", "food"]), Some("foot"));
        assert_eq!(nearest("rated_load", &["rated-load"]), Some("rated-load"));
        assert_eq!(nearest("colour", &["mass", "name"]), None);
        assert_eq!(nearest("", &["a"]), None);
    }
}
