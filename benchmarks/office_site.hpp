#pragma once

#include "linkmargin/site/site.hpp"

#include "random_office.hpp"

#include <string>

namespace linkmargin {

/// The walls of random_office() as a site without rooms: what stands in the way is these walls, 3 m high,
/// of three materials in turn at random.
/// @param angled  whether their losses depend on the angle of incidence (layers) or are constant
inline Site office_site(std::size_t walls, std::uint64_t seed, bool angled) {
  Site site;
  site.name = "office";
  site.radio.diffraction = false;
  site.profiles.emplace("hub", Profile{});
  const auto constant = [](double loss_db) { return MeasuredLoss{{{0, loss_db}}}; };
  const auto add = [&](const std::string& name, auto kind) {
    Material material;
    material.name = name;
    material.kind = kind;
    site.materials.emplace(name, material);
  };
  if (angled) {  // ITU-R P.2040-3 brick, plasterboard and concrete; the benchmark does not depend on the
                 // figures
    add("brick", ElectricalProperties{3.91, 0, 0.0238, 0.16, 1e9, 40e9});
    add("board", ElectricalProperties{2.73, 0, 0.0085, 0.9395, 1e9, 100e9});
    add("concrete", ElectricalProperties{5.24, 0, 0.0462, 0.7822, 1e9, 100e9});
  } else {
    add("brick", constant(7));
    add("board", constant(3));
    add("concrete", constant(15));
  }
  Storey storey;
  storey.name = "ground";
  storey.height_m = 3;
  const RandomStream stream(seed, 3);
  const Construction constructions[] = {{"brick", 0.115}, {"board", 0.025}, {"concrete", 0.2}};
  std::uint64_t draw = 0;
  for (const Segment2 line : random_office(walls, seed)) {
    TracedWall wall;
    wall.name = "wall " + std::to_string(draw);
    wall.line = line;
    wall.construction = constructions[stream.bits(draw++) % 3];
    wall.height_m = 3;
    storey.walls.push_back(wall);
  }
  site.storeys.push_back(storey);
  return site;
}

}  // namespace linkmargin
