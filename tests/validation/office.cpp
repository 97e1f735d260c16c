#include "linkmargin/propagation/free_space.hpp"

#include "markdown.hpp"
#include "measurement_section.hpp"
#include "prediction.hpp"

#include <cmath>

namespace linkmargin::validation {
namespace {

/// Common practice; the data set does not state it.
constexpr double kCeilingM = 3.0;

/// A usual brick partition; the data set does not state the thickness.
constexpr double kBrickM = 0.12;

Construction construction(const std::string& material) {
  if (material == "brick") return {"brick", kBrickM};
  if (material == "wood_partition") return {"timber wall", {}};
  return {"heavy wall", {}};
}

/// Gaps up to this between two walls on one line are taken as doorways.
constexpr double kWidestDoorM = 2.0;

double length_m(Point2 a, Point2 b) {
  return std::hypot(a.x - b.x, a.y - b.y);
}

/// The gap from the end of one wall to the start of another on the same line, if it may be a doorway.
std::optional<Segment2> doorway(const Segment2& one, const Segment2& other) {
  for (const Point2 from : {one.a, one.b}) {
    for (const Point2 to : {other.a, other.b}) {
      const Point2 back = from == one.a ? one.b : one.a;
      const Point2 on = to == other.a ? other.b : other.a;
      const double gap_m = length_m(from, to);
      const double whole_m = length_m(back, on);
      const bool in_line = std::abs(length_m(back, from) + gap_m + length_m(to, on) - whole_m) < 0.01;
      if (gap_m > kJoinM && gap_m <= kWidestDoorM && in_line) return Segment2{from, to};
    }
  }
  return std::nullopt;
}

/// @param closed  the gaps that may be doorways hold a closed leaf
Site office_site(const DataSet& set, bool closed) {
  Site site = empty_site("office floor", set.frequency_hz, kCeilingM);
  const auto add = [&](const Segment2& line, const Construction& construction) {
    auto& walls = site.storeys[0].walls;
    walls.push_back({.name = "wall " + std::to_string(walls.size() + 1),
                     .line = {snapped(line.a), snapped(line.b)},
                     .construction = construction,
                     .height_m = {}});
  };
  const auto walls = joined(set.walls);
  for (std::size_t i = 0; i < walls.size(); ++i) {
    add(walls[i].line, construction(walls[i].material));
    for (std::size_t j = 0; closed && j < i; ++j) {
      if (const auto gap = doorway(walls[i].line, walls[j].line)) add(*gap, {"timber door", {}});
    }
  }
  return site;
}

bool any(const PredictedLink&) {
  return true;
}

double left_out_rmse_db(const std::vector<PredictedLink>& links) {
  double squares = 0;
  for (std::size_t i = 0; i < links.size(); ++i) {
    const std::string& name = links[i].measured.name;
    const double offset_db =
        fitted_offset_db(links, [&](const PredictedLink& link) { return link.measured.name != name; });
    const double residual = links[i].measured.level_db - (offset_db - links[i].path_loss_db);
    squares += residual * residual;
  }
  return std::sqrt(squares / static_cast<double>(links.size()));
}

/// By how much the link in sight, the first one, lies under free space.
std::string under_free_space(const DataSet& set) {
  const MeasuredLink& link = set.links.front();
  const double distance_m = length_m({link.device.x, link.device.y}, {link.fixed.x, link.fixed.y});
  return decimals(-link.level_db - free_space_loss_db(distance_m, set.frequency_hz), 0);
}

struct Variant {
  std::string name;
  std::vector<PredictedLink> links;
  double offset_db = 0;

  double residual_db(std::size_t i) const {
    return links[i].measured.level_db - (offset_db - links[i].path_loss_db);
  }
};

std::vector<Variant> variants(const DataSet& set) {
  std::vector<Variant> result;
  for (const bool closed : {false, true}) {
    for (const bool routes : {true, false}) {
      Site site = office_site(set, closed);
      site.radio.routes = routes;
      Variant variant{
          std::string("routes ") + (routes ? "on" : "off") + ", doors " + (closed ? "closed" : "open"),
          predict(site, Doors::armed, set.links)};
      variant.offset_db = fitted_offset_db(variant.links, any);
      result.push_back(std::move(variant));
    }
  }
  return result;
}

std::string totals(const std::vector<Variant>& all) {
  std::vector<std::vector<std::string>> rows;
  for (const Variant& variant : all) {
    const Score whole = score(variant.links, variant.offset_db, any);
    rows.push_back({variant.name, decimals(whole.rmse_db, 2), decimals(left_out_rmse_db(variant.links), 2),
                    decimals(whole.claimed_sigma_db, 2), decimals(whole.inside_percent, 0),
                    with_sign(-variant.offset_db, 1)});
  }
  return table({"variant", "RMSE dB", "link left out, RMSE dB", "claimed sigma dB", "inside 90 % interval, %",
                "fitted constant loss dB"},
               rows);
}

std::string by_link(const std::vector<Variant>& all) {
  std::vector<std::vector<std::string>> rows;
  for (std::size_t i = 0; i < all[0].links.size(); ++i) {
    const MeasuredLink& link = all[0].links[i].measured;
    std::vector<std::string> row{
        link.name, decimals(std::hypot(link.device.x - link.fixed.x, link.device.y - link.fixed.y), 1),
        std::to_string(all[0].links[i].walls), decimals(-link.level_db, 1)};
    for (const Variant& variant : all) row.push_back(with_sign(variant.residual_db(i), 1));
    rows.push_back(row);
  }
  std::vector<std::string> header{"link", "distance m", "walls", "measured loss dB"};
  for (const Variant& variant : all) header.push_back("residual dB, " + variant.name);
  return table(header, rows);
}

/// What routes do here, and where they lie farthest from what was measured.
std::string verdict(const std::vector<Variant>& all) {
  const double with_db = score(all[0].links, all[0].offset_db, any).rmse_db;
  const double without_db = score(all[1].links, all[1].offset_db, any).rmse_db;
  std::size_t farthest = 0;
  for (std::size_t i = 1; i < all[0].links.size(); ++i) {
    if (std::abs(all[0].residual_db(i)) > std::abs(all[0].residual_db(farthest))) farthest = i;
  }
  return "Doors open, routes make the RMSE " + decimals(std::abs(with_db - without_db), 2) + " dB " +
         (with_db > without_db ? "worse" : "better") + ". With them the farthest link is " +
         all[0].links[farthest].measured.name + ", which gets " +
         decimals(std::abs(all[0].residual_db(farthest)), 1) + " dB too " +
         (all[0].residual_db(farthest) < 0 ? "much" : "little") + ".";
}

}  // namespace

std::string office_text(const std::filesystem::path& folder) {
  const DataSet set = read_data_set(folder, true);
  const std::vector<Variant> all = variants(set);
  return "### Office floor, 868 MHz\n\n" +
         paragraph(
             R"(Obiri and Van Laerhoven, IEEE Access 13 (2025) 83148; means and wall counts of their public
                   notebooks, CC BY 4.0; plan digitised by its scale bar, 1 m and 15 % uncertain. Six links of about
                   157 000 packets each. Brick is `brick` of 0.12 m, wooden partitions are `timber wall`, outer walls of
                   unknown make COST 231's heavy wall. The plan shows gaps where doors are; doors open leaves them,
                   doors closed fills those of up to 2 m in one wall with `timber door` and was added after the first variant had
                   been seen. One figure is fitted: a
                   constant, which also takes up that the link in sight lies )" +
             under_free_space(set) +
             " dB under free space, so that the absolute scale of these data cannot be trusted.") +
         totals(all) +
         paragraph(
             R"(To stand beside: brick 9.4 and wood 3.6 dB fitted to these six links, 1.8 dB with the link left
                   out; the losses that the authors published, 5.9 dB.)") +
         by_link(all) + paragraph(verdict(all));
}

}  // namespace linkmargin::validation
