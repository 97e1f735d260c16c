#include "linkmargin/link/radio/metal_mount.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/material/metal_proximity.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {

RadioEnd on_mount(RadioEnd end, const std::optional<Mount>& mount, double frequency_hz) {
  if (!mount) return end;
  const double gap_wavelengths = mount->gap_m / wavelength_m(frequency_hz);
  const auto loss_db = [&](MetalCurve curve) {
    return std::max(0.0, metal_proximity_loss_db(curve, gap_wavelengths));
  };
  end.metal = MetalSheet{.front_db = loss_db(MetalCurve::front_of_sheet),
                         .behind_db = loss_db(MetalCurve::behind_plate),
                         .faces_deg = mount->faces_deg};
  end.metal_loss_db = end.metal->front_db;
  return end;
}

double metal_loss_db(const MetalSheet& metal, Point3 at, Point3 far_end) {
  const double away_m = distance(at, far_end);
  if (!metal.faces_deg || away_m == 0) return metal.front_db;
  const double faces = *metal.faces_deg * kPi / 180;
  const Point2 normal{std::cos(faces), std::sin(faces)};
  const double sine = std::clamp(dot(normal, far_end.plan() - at.plan()) / away_m, -1.0, 1.0);
  const double plane_angle_deg = std::clamp(std::asin(sine) * 180 / kPi, -90.0, 90.0);
  return metal_blend_db(metal.front_db, metal.behind_db, plane_angle_deg);
}

RadioEnd towards(RadioEnd end, Point3 at, Point3 far_end) {
  if (end.metal) end.metal_loss_db = metal_loss_db(*end.metal, at, far_end);
  return end;
}

}  // namespace linkmargin
