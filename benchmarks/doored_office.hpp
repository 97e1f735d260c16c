#pragma once

#include "linkmargin/base/random.hpp"
#include "linkmargin/site/site.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace linkmargin {

/// An invented office of side x side rooms of uneven size on one storey, with a hub near its middle: every
/// room has a door to the room before it in its row, every third one to the room below it too, every eighth
/// a steel cupboard. 2 side (side + 1) walls; all that ways round and echoes are found for.
/// @param seed the same seed gives the same office
inline Site doored_office(std::size_t side, std::uint64_t seed) {
  const RandomStream stream(seed, 0xD005);
  std::uint64_t draw = 0;
  const auto uniform = [&](double from, double to) { return from + (to - from) * stream.uniform(draw++); };
  Site site;
  site.name = "office with doors";
  const auto measured = [&](const std::string& name, double loss_db) {
    site.materials.emplace(name, Material{.name = name,
                                          .kind = MeasuredLoss{{{0, loss_db}}},
                                          .sigma_db = loss_db / 4,
                                          .use = {},
                                          .source = "invented",
                                          .verified = {},
                                          .note = {}});
  };
  for (const auto& [name, loss_db] :
       {std::pair{"board", 3.0}, {"outer", 12.0}, {"leaf", 2.0}, {"steel", 26.0}})
    measured(name, loss_db);
  Profile hub;
  hub.name = "hub";
  hub.transmit = {TransmitPower::Kind::erp, Dbm{14}};
  hub.sensitivity = Dbm{-105};
  hub.two_way = true;
  site.profiles.emplace("hub", hub);

  Storey storey;
  storey.name = "ground";
  storey.height_m = 2.7;
  storey.outer_wall = {"outer", {}};
  storey.inner_wall = {"board", {}};
  std::vector<double> xs{0};
  std::vector<double> ys{0};
  for (std::size_t i = 0; i < side; ++i) {
    xs.push_back(snapped({xs.back() + uniform(2.5, 5.5), 0}).x);
    ys.push_back(snapped({0, ys.back() + uniform(2.5, 5.5)}).y);
  }
  const auto name_of = [](std::size_t i, std::size_t j) {
    return "room " + std::to_string(i) + "." + std::to_string(j);
  };
  const auto add_door = [&](const std::string& first, const std::string& second, Point2 at) {
    storey.openings.push_back({.name = "door " + first + " " + second,
                               .first = first,
                               .second = second,
                               .wall = {},
                               .at = snapped(at),
                               .width_m = 0.9,
                               .height_m = 2.1,
                               .leaf = {"leaf", {}}});
  };
  for (std::size_t i = 0; i < side; ++i) {
    for (std::size_t j = 0; j < side; ++j) {
      const double width_m = xs[i + 1] - xs[i];
      const double depth_m = ys[j + 1] - ys[j];
      storey.rooms.push_back({name_of(i, j), rectangle({xs[i], ys[j]}, width_m, depth_m)});
      const double across = uniform(0.3, 0.7);
      const double up = uniform(0.3, 0.7);
      if (i > 0) add_door(name_of(i - 1, j), name_of(i, j), {xs[i], ys[j] + up * depth_m});
      if (j > 0 && (i + j) % 3 == 0)
        add_door(name_of(i, j - 1), name_of(i, j), {xs[i] + across * width_m, ys[j]});
      if ((i + 3 * j) % 8 == 0) {
        storey.obstacles.push_back({.name = "cupboard " + name_of(i, j),
                                    .corners = rectangle(snapped({xs[i] + 0.5, ys[j] + 0.5}), 1, 0.5),
                                    .height_m = 2,
                                    .construction = {"steel", {}}});
      }
    }
  }
  site.storeys.push_back(std::move(storey));
  Hub middle;
  middle.name = "hub";
  middle.profile = "hub";
  middle.place = {0, snapped({0.47 * xs.back(), 0.53 * ys.back()}), 1.5};
  site.hubs.push_back(middle);
  return site;
}

}  // namespace linkmargin
