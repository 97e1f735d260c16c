#include "linkmargin/analysis/visit/visit_walk.hpp"

#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

class Walk {
 public:
  Walk(const Site& site, const Placement& start, const std::vector<Placement>& places,
       const std::vector<std::vector<std::size_t>>& after)
      : after_(after), places_(places) {
    places_.push_back(start);
    for (const Placement& place : places_)
      rooms_.push_back(checks::room_at(site.storeys[place.storey], place.at));
  }

  std::vector<std::size_t> run() {
    const std::size_t start = places_.size() - 1;
    way_ = {start};
    std::vector<bool> done(start);
    while (way_.size() <= start) {
      std::size_t next = start;
      for (std::size_t stop = 0; stop < start; ++stop) {
        const bool open =
            !done[stop] && std::ranges::all_of(after_[stop], [&](std::size_t i) { return done[i]; });
        if (open && (next == start || apart_m(way_.back(), stop) < apart_m(way_.back(), next))) next = stop;
      }
      done[next] = true;
      way_.push_back(next);
    }
    while (shorten()) {
    }
    way_.erase(way_.begin());
    return way_;
  }

 private:
  double apart_m(std::size_t a, std::size_t b) const {
    const std::size_t low = std::min(places_[a].storey, places_[b].storey);
    const std::size_t high = std::max(places_[a].storey, places_[b].storey);
    return distance(places_[a].at, places_[b].at) + (rooms_[a] == rooms_[b] ? 0 : kOtherRoomM) +
           kOtherStoreyM * static_cast<double>(high - low);
  }

  /// Turns one stretch round where that shortens the way, whose end is open.
  bool shorten() {
    constexpr double least_m = 1e-6;
    for (std::size_t from = 1; from + 1 < way_.size(); ++from) {
      for (std::size_t last = from + 1; last < way_.size(); ++last) {
        const bool ends = last + 1 == way_.size();
        const double now_m =
            apart_m(way_[from - 1], way_[from]) + (ends ? 0 : apart_m(way_[last], way_[last + 1]));
        const double then_m =
            apart_m(way_[from - 1], way_[last]) + (ends ? 0 : apart_m(way_[from], way_[last + 1]));
        if (then_m > now_m - least_m) continue;
        const auto begin = way_.begin() + static_cast<std::ptrdiff_t>(from);
        const auto end = way_.begin() + static_cast<std::ptrdiff_t>(last) + 1;
        std::reverse(begin, end);
        if (in_order()) return true;
        std::reverse(begin, end);
      }
    }
    return false;
  }

  bool in_order() const {
    std::vector<std::size_t> at(places_.size());
    for (std::size_t i = 0; i < way_.size(); ++i) at[way_[i]] = i;
    for (std::size_t stop = 0; stop < after_.size(); ++stop) {
      if (std::ranges::any_of(after_[stop], [&](std::size_t before) { return at[before] > at[stop]; }))
        return false;
    }
    return true;
  }

  const std::vector<std::vector<std::size_t>>& after_;
  std::vector<Placement> places_;  ///< the start last
  std::vector<const Room*> rooms_;
  std::vector<std::size_t> way_;
};

}  // namespace

std::vector<std::size_t> walk_order(const Site& site, const Placement& start,
                                    const std::vector<Placement>& places,
                                    const std::vector<std::vector<std::size_t>>& after) {
  return Walk(site, start, places, after).run();
}

}  // namespace linkmargin
