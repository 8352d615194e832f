//! Three by three matrices for colour work. Knows arithmetic only: no spaces, no light.

/// A matrix by rows; applied to a column of three numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Matrix3(pub [[f64; 3]; 3]);

impl Matrix3 {
    /// The matrix that changes nothing.
    pub const IDENTITY: Self = Self::diagonal([1.0, 1.0, 1.0]);

    /// The three numbers on the diagonal, nothing else.
    pub const fn diagonal(d: [f64; 3]) -> Self {
        Self([[d[0], 0.0, 0.0], [0.0, d[1], 0.0], [0.0, 0.0, d[2]]])
    }

    /// Matrix times column.
    pub const fn apply(&self, v: [f64; 3]) -> [f64; 3] {
        let m = &self.0;
        [
            m[0][0] * v[0] + m[0][1] * v[1] + m[0][2] * v[2],
            m[1][0] * v[0] + m[1][1] * v[1] + m[1][2] * v[2],
            m[2][0] * v[0] + m[2][1] * v[1] + m[2][2] * v[2],
        ]
    }

    /// Matrix times matrix: `self` is applied last.
    #[must_use]
    pub const fn times(&self, other: &Self) -> Self {
        let (a, b) = (&self.0, &other.0);
        let mut out = [[0.0; 3]; 3];
        let mut row = 0;
        while row < 3 {
            let mut col = 0;
            while col < 3 {
                out[row][col] = a[row][0] * b[0][col] + a[row][1] * b[1][col] + a[row][2] * b[2][col];
                col += 1;
            }
            row += 1;
        }
        Self(out)
    }

    /// The determinant; zero where three directions fold into two.
    pub const fn determinant(&self) -> f64 {
        let m = &self.0;
        m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0])
            + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0])
    }

    /// The inverse by cofactors. The caller sees to it that the determinant is not zero.
    #[must_use]
    pub const fn inverse(&self) -> Self {
        let m = &self.0;
        let d = 1.0 / self.determinant();
        Self([
            [
                (m[1][1] * m[2][2] - m[1][2] * m[2][1]) * d,
                (m[0][2] * m[2][1] - m[0][1] * m[2][2]) * d,
                (m[0][1] * m[1][2] - m[0][2] * m[1][1]) * d,
            ],
            [
                (m[1][2] * m[2][0] - m[1][0] * m[2][2]) * d,
                (m[0][0] * m[2][2] - m[0][2] * m[2][0]) * d,
                (m[0][2] * m[1][0] - m[0][0] * m[1][2]) * d,
            ],
            [
                (m[1][0] * m[2][1] - m[1][1] * m[2][0]) * d,
                (m[0][1] * m[2][0] - m[0][0] * m[2][1]) * d,
                (m[0][0] * m[1][1] - m[0][1] * m[1][0]) * d,
            ],
        ])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_matrix_times_its_inverse_changes_nothing() {
        let m = Matrix3([[2.0, 0.5, -1.0], [0.25, 3.0, 0.125], [1.0, -0.75, 1.5]]);
        let product = m.times(&m.inverse());
        for (row, want) in product.0.iter().zip(Matrix3::IDENTITY.0) {
            for (got, want) in row.iter().zip(want) {
                assert!((got - want).abs() < 1e-14, "{product:?}");
            }
        }
    }

    #[test]
    fn the_right_factor_is_applied_first() {
        let swap = Matrix3([[0.0, 1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]]);
        let double = Matrix3::diagonal([2.0, 1.0, 1.0]);
        assert_eq!(double.times(&swap).apply([1.0, 5.0, 7.0]), [10.0, 1.0, 7.0]);
    }
}
