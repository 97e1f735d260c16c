#include "linkmargin/analysis/visit/visit_walk.hpp"

#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <map>
#include <tuple>

namespace linkmargin {
namespace {

/// A way through places of one storey.
class StoreyWalk {
 public:
  StoreyWalk(const Site& site, const Placement& start, const std::vector<Placement>& places,
             std::vector<std::size_t> stops)
      : places_(places), start_(start), stops_(std::move(stops)) {
    const auto room = [&](const Placement& place) {
      return checks::room_at(site.storeys[place.storey], place.at);
    };
    start_room_ = room(start);
    for (const std::size_t stop : stops_) rooms_[stop] = room(places[stop]);
  }

  std::vector<std::size_t> run() {
    std::vector<std::size_t> way;
    while (!stops_.empty()) {
      const auto next = std::ranges::min_element(stops_, {}, [&](std::size_t stop) {
        return way.empty() ? from_start_m(stop) : apart_m(way.back(), stop);
      });
      way.push_back(*next);
      stops_.erase(next);
    }
    while (shorten(way)) {
    }
    return way;
  }

 private:
  /// Turns a stretch round where that shortens the way; its end is open.
  bool shorten(std::vector<std::size_t>& way) const {
    constexpr double least_m = 1e-6;
    for (std::size_t from = 0; from + 1 < way.size(); ++from) {
      const auto to_m = [&](std::size_t stop) {
        return from == 0 ? from_start_m(stop) : apart_m(way[from - 1], stop);
      };
      for (std::size_t last = from + 1; last < way.size(); ++last) {
        const auto on_m = [&](std::size_t stop) {
          return last + 1 < way.size() ? apart_m(stop, way[last + 1]) : 0;
        };
        const double now_m = to_m(way[from]) + on_m(way[last]);
        if (to_m(way[last]) + on_m(way[from]) > now_m - least_m) continue;
        std::reverse(way.begin() + static_cast<std::ptrdiff_t>(from),
                     way.begin() + static_cast<std::ptrdiff_t>(last) + 1);
        return true;
      }
    }
    return false;
  }

  double from_start_m(std::size_t stop) const {
    return distance(start_.at, places_[stop].at) + (start_room_ == rooms_.at(stop) ? 0 : kOtherRoomM);
  }
  double apart_m(std::size_t a, std::size_t b) const {
    return distance(places_[a].at, places_[b].at) + (rooms_.at(a) == rooms_.at(b) ? 0 : kOtherRoomM);
  }

  const std::vector<Placement>& places_;
  Placement start_;
  const Room* start_room_ = nullptr;
  std::vector<std::size_t> stops_;
  std::map<std::size_t, const Room*> rooms_;
};

}  // namespace

std::vector<std::size_t> walk_order(const Site& site, const Placement& start,
                                    const std::vector<Placement>& places) {
  const double level_m = site.storeys[start.storey].level_m;
  using StoreyRank = std::tuple<bool, double, std::size_t>;  // below the start, how far, which
  std::map<StoreyRank, std::vector<std::size_t>> storeys;
  for (std::size_t i = 0; i < places.size(); ++i) {
    const double up_m = site.storeys[places[i].storey].level_m - level_m;
    storeys[{up_m < 0, std::abs(up_m), places[i].storey}].push_back(i);
  }
  std::vector<std::size_t> order;
  Placement from = start;
  for (auto& [rank, stops] : storeys) {
    from.storey = std::get<std::size_t>(rank);
    for (const std::size_t stop : StoreyWalk(site, from, places, std::move(stops)).run()) {
      order.push_back(stop);
      from = places[stop];
    }
  }
  return order;
}

}  // namespace linkmargin
