#pragma once

#include <complex>

/// Bending round edges: half-planes (knife edges) and openings between two of them.
namespace linkmargin {

/// Part of the wave that a half-plane takes away, as a complex share of the free wave: (1 + j) / 2 times the
/// integral of exp(-j pi t^2 / 2) from v to infinity. 1 at v = -infinity, 1/2 at 0, 0 at +infinity; shade(v)
/// + shade(-v) = 1.
/// @param v  where the half-plane begins, seen from the line, positive away from it; infinities allowed
/// @throws DomainError for NaN. Accuracy: 1e-12, from a table made at the first call. Source: Fresnel
/// integrals, definition.
std::complex<double> half_plane_coefficient(double v);

/// Its power, |half_plane_coefficient(v)|^2: without the phase where that takes no part.
double half_plane_power(double v);

/// half_plane_coefficient() by power series and continued fraction: what the table is made of, and its
/// oracle.
std::complex<double> exact_half_plane_coefficient(double v);

/// Where an edge lies in units of the Fresnel zone, for any angle of bend: sqrt(2 (L^2 - d^2) / (lambda L)),
/// where L is the way round by the edge and d the straight line. For small angles it is the v of ITU-R P.526;
/// for large ones it is the one with which the knife edge has the angle dependence of the incident wave in
/// the uniform theory of diffraction.
/// @param way_m       L >= straight_m > 0
/// @param wavelength_m > 0
/// @return >= 0; the caller gives it its sign
/// @throws DomainError when a length is not positive or NaN, or way_m is shorter than straight_m by more than
/// rounding
double fresnel_parameter(double way_m, double straight_m, double wavelength_m);

/// One side of an opening, as seen from the line between two ends.
struct OpeningEdge {
  /// fresnel_parameter, positive when the line passes on the open side of the edge; infinite: no edge
  double v = 0;
  /// Straight line over the way round by the edge, (0, 1]: the wave that comes round has spread so much more.
  /// In a storey it spreads as a cylinder does, between floor and ceiling, so that its power falls by this
  /// once.
  double spreading_ratio = 1;
  /// By how many wavelengths the way round is longer than the straight line, >= 0: the phase of the wave that
  /// comes round.
  double lag = 0;
};

/// @param way_m, straight_m, wavelength_m  as for fresnel_parameter()
/// @param passes_open_side  whether the line passes on the open side of the edge
/// @throws DomainError as fresnel_parameter()
OpeningEdge opening_edge(double way_m, double straight_m, double wavelength_m, bool passes_open_side);

/// The wave that comes round an edge, over the free wave along the straight line, whichever side that passes:
/// 1/2 where it meets the edge. As large as half_plane_coefficient(|v|) with the edge's spreading; its phase
/// is that of the way round, 2 pi lag, from which pi v^2 / 2 departs where both ends are near the edge.
/// Source: uniform theory of diffraction (R. G. Kouyoumjian and P. H. Pathak, Proc. IEEE 62 (1974) 1448), the
/// term of the incident wave. Accuracy: against the exact field of a line source
/// (tests/published/half_plane_line_source.csv).
std::complex<double> edge_wave(const OpeningEdge& edge);

/// Of the power that bends in an aperture, what its wall does not let through by itself. A screen that passes
/// the amplitude t_w and in its aperture t_a makes t_w times the free wave, which belongs to the line
/// straight through the wall, and t_a - t_w times the wave of the aperture alone (Babinet's principle): (1 -
/// t_w / t_a)^2 of |t_a|^2.
///
/// Wall and aperture are taken to shift the phase alike. More than 1, where an aperture loses more than its
/// wall and is its shadow that bends, is taken for 1.
/// @param wall_db, aperture_db  what passing them costs
/// @return [0, 1]
double aperture_contrast(double wall_db, double aperture_db);

/// How much of the power of free space over the straight line comes through an opening between two parallel
/// edges. Both edges positive: the line passes through the opening; one negative: it passes beside it.
///
/// The two edges' waves are added as waves where the line passes through. Beside it, higher-order diffraction
/// and the mean over a wavelength or two blur their interference: there the cross term fades to half within
/// one Fresnel zone (half way between no and full coherence: common practice; docs/methods/detours.md says what
/// either would change).
/// @return >= 0; 1 without edges; continuous; unchanged by swapping the edges, bit for bit
/// @throws DomainError when both are negative (no line passes on the closed side of both) or one is NaN
double slit_power_fraction(OpeningEdge one, OpeningEdge other);

}  // namespace linkmargin
