#include "figures.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/link/building/transmission.hpp"
#include "linkmargin/link/mechanism/scene.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/propagation/material/metal_proximity.hpp"
#include "linkmargin/yaml/site/tables.hpp"

#include "fixtures/published_table.hpp"
#include "line_chart.hpp"

#include <cmath>

namespace linkmargin::validation {
namespace {

constexpr double kFigureHz = 868.3e6;

Series wall_curve(const std::string& name, const Construction& construction, const MaterialTable& table) {
  const Transmission transmission = Transmission::of(construction, table, kFigureHz);
  Series series{name, {}};
  for (int angle_deg = 0; angle_deg <= 85; ++angle_deg) {
    series.points.push_back(
        {static_cast<double>(angle_deg), transmission.loss_db(std::cos(angle_deg * kPi / 180))});
  }
  return series;
}

Figure loss_against_angle() {
  MaterialTable table = embedded_tables().materials;
  Material studs;
  studs.name = "boards on studs";
  studs.kind = BuildUp{{{"plasterboard", 0.0125}, {kAir, 0.075}, {"plasterboard", 0.0125}}};
  table["boards on studs"] = studs;
  LineChart chart{
      .title = "Loss of five walls against the angle of incidence, 868.3 MHz",
      .x = {"angle from the normal, degrees", 0, 90, 15, 0},
      .y = {"loss, dB", 0, 16, 2, 0},
      .series = {wall_curve("concrete 0.2 m", {"concrete", 0.2}, table),
                 wall_curve("brick 0.24 m", {"brick", 0.24}, table),
                 wall_curve("brick 0.1 m", {"brick", 0.1}, table),
                 wall_curve("double glazing 4/16/4", {"bare double glazing", {}}, table),
                 wall_curve("boards on studs", {"boards on studs", {}}, table)},
      .caption = {
          "Mean of both polarisations, up to 85 degrees. Permittivity and conductivity of ITU-R P.2040-3,",
          "for all but glass carried below the 1 GHz from which it states them. Boards: 12.5 mm, 75 mm",
          "of air, 12.5 mm. Glazing: two bare panes of 4 mm, 16 mm of air, without a coating."}};
  return {"loss_against_angle.svg", line_chart_svg(chart)};
}

Series metal_curve(const std::string& name, MetalCurve curve) {
  Series series{name, {}};
  const double wavelength = wavelength_m(kFigureHz);
  for (int gap_mm = 5; gap_mm <= 250; gap_mm += gap_mm < 60 ? 1 : 5) {
    series.points.push_back({gap_mm / 10.0, metal_proximity_loss_db(curve, gap_mm / 1000.0 / wavelength)});
  }
  return series;
}

Figure metal_gap() {
  LineChart chart{
      .title = "What metal costs a half-wave dipole, against the gap, 868.3 MHz",
      .x = {"gap between metal and antenna, cm", 0, 25, 5, 0},
      .y = {"loss against free space, dB", -5, 30, 5, 0},
      .series = {metal_curve("behind a plate of 0.36 m", MetalCurve::behind_plate),
                 metal_curve("before a large sheet", MetalCurve::front_of_sheet),
                 metal_curve("before a plate of 0.36 m", MetalCurve::front_of_plate),
                 metal_curve("upright on a large sheet", MetalCurve::front_of_sheet_upright)},
      .caption = {
          "Mean over all directions on that side, mismatch and copper counted; below nothing the sheet, as a",
          "mirror, adds more than it takes. Method of moments (nec2c 1.3) at 868 MHz, resonant dipole of 1 "
          "mm",
          "wire 1 mm in radius. Small tuned antennas of products usually lose more close to metal."}};
  return {"metal_gap.svg", line_chart_svg(chart)};
}

/// Rooms in a row along a corridor, heavy walls between all, a doorway from the first room alone.
Site corridor() {
  Site site;
  site.name = "corridor";
  site.radio.frequency_hz = kFigureHz;
  site.materials = embedded_tables().materials;
  Storey storey;
  storey.name = "ground";
  storey.height_m = 2.6;
  storey.outer_wall = {"concrete block wall", {}};
  storey.inner_wall = {"concrete block wall", {}};
  storey.rooms = {{"corridor", rectangle({0, 0}, 24, 2)}};
  for (int i = 0; i < 6; ++i) {
    storey.rooms.push_back({"room " + std::to_string(i + 1), rectangle({4.0 * i, -4}, 4, 4)});
  }
  Opening door;
  door.name = "doorway";
  door.first = "corridor";
  door.second = "room 1";
  door.at = {2, 0};
  door.width_m = 0.875;
  door.height_m = 2;
  door.leaf = {kNoMaterial, {}};
  storey.openings = {door};
  site.storeys = {storey};
  return site;
}

Series corridor_curve(const std::string& name, bool diffraction) {
  Site site = corridor();
  site.radio.diffraction = diffraction;
  const Scene scene(site, Doors::open);
  Series series{name, {}};
  const Point3 hub{1, -2, 1.5};
  for (int step = 0; step < 479; ++step) {
    const double x_m = 0.05 + 0.05 * step;
    series.points.push_back({x_m, path_loss(scene, hub, {x_m, 1, 1.5}).path_loss_db});
  }
  return series;
}

Figure corridor_route() {
  LineChart chart{
      .title = "Path loss from a room into the corridor: by the doorway, and straight",
      .x = {"place along the corridor, m", 0, 24, 4, 0},
      .y = {"path loss, dB", 30, 130, 10, 0},
      .series = {corridor_curve("straight path alone", false), corridor_curve("with routes", true)},
      .caption = {
          "Six rooms of 4 m x 4 m in a row along a corridor of 2 m; concrete blocks between all (13 dB, "
          "Rappaport,",
          "from memory), one doorway of 0.875 m from the first room at 2 m. Hub in that room, 1 m along and "
          "2 m",
          "from the corridor; device carried down its middle, both 1.5 m high. 868.3 MHz. Computed by this",
          "program; how near it comes to a field solver and to measurements is in validation.md."}};
  return {"corridor_route.svg", line_chart_svg(chart)};
}

}  // namespace

std::vector<Figure> figures() {
  return {loss_against_angle(), metal_gap(), corridor_route()};
}

}  // namespace linkmargin::validation
