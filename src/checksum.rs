//! A check sum that finds changes made by mistake, not by malice: FNV-1a, 64 bits (Fowler, Noll and
//! Vo, from memory).

/// The sum of the bytes added so far.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Checksum(u64);

impl Default for Checksum {
    /// The sum of no bytes.
    fn default() -> Checksum {
        Checksum(0xcbf2_9ce4_8422_2325)
    }
}

impl Checksum {
    /// Adds bytes; adding them in several pieces comes to the same.
    pub fn add(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.0 = (self.0 ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }

    /// The sum as a number.
    pub const fn value(self) -> u64 {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Sums of the algorithm's authors, from memory.
    #[test]
    fn known_texts_have_their_known_sums() {
        for (text, sum) in [
            ("", 0xcbf2_9ce4_8422_2325),
            ("a", 0xaf63_dc4c_8601_ec8c),
            ("foobar", 0x8594_4171_f739_67e8),
        ] {
            let mut found = Checksum::default();
            text.chars().for_each(|c| found.add(&[c as u8]));
            assert_eq!(found.value(), sum, "{text}");
        }
    }
}
