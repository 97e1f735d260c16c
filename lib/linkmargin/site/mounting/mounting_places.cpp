#include "linkmargin/site/mounting/mounting_places.hpp"

#include "linkmargin/site/mounting/storey_plan.hpp"
#include "linkmargin/site/room_wall.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// Under the ceiling of a lower storey.
constexpr double kUnderCeilingM = 0.1;

/// Where on a frame the middle of a radio is: beside the leaf.
constexpr double kBesideLeafM = 0.05;

double height_on(const Site& site, const MountingRequest& request, std::size_t storey) {
  const double height_m = site.storeys[storey].height_m;
  if (storey == request.place.storey) return request.place.height_m;
  if (request.surface != MountingSurface::ceiling)
    return std::min(request.place.height_m, height_m - kUnderCeilingM);
  return std::max(0.0, height_m - (site.storeys[request.place.storey].height_m - request.place.height_m));
}

/// From `from` to `to`, both ends among them, at most `step_m` apart.
std::vector<double> spaced(double from, double to, double step_m) {
  std::vector<double> found;
  if (to < from) return found;
  const int parts = static_cast<int>(std::ceil((to - from) / step_m - 1e-9));
  if (parts < 1) return {(from + to) / 2};
  for (int i = 0; i <= parts; ++i) found.push_back(from + (to - from) * i / parts);
  return found;
}

}  // namespace

/// Finds the places of one radio on one storey.
class MountingSearch {
 public:
  MountingSearch(const Site& site, const StoreyPlan& plan, const MountingRequest& request, std::size_t storey,
                 double step_m)
      : plan_(plan),
        request_(request),
        storey_(storey),
        step_m_(step_m),
        height_m_(height_on(site, request, storey)),
        opening_clear_m_(request.cable_m ? kMainsOpeningClearM : kFrameM),
        home_(request.hangs && storey == request.place.storey
                  ? checks::room_at(plan.storey(), request.place.at)
                  : nullptr) {
    has_rooms_ = std::ranges::any_of(site.storeys, [](const Storey& one) { return !one.rooms.empty(); });
  }

  std::vector<Placement> run() {
    const auto* along = reach<Mobility::Along>();
    if (along != nullptr) {
      on_line(along->line);
    } else if (request_.surface == MountingSurface::wall) {
      on_walls();
    } else if (request_.surface == MountingSurface::ceiling) {
      in_rooms(kCeilingClearM);
    } else if (request_.surface == MountingSurface::floor) {
      in_rooms(kFloorClearM);
    } else {
      on_frame();
    }
    return std::move(found_);
  }

 private:
  template <typename Reach>
  const Reach* reach() const {
    return request_.may_move ? std::get_if<Reach>(&request_.may_move->reach) : nullptr;
  }

  void on_walls() {
    for (const WallFace& face : plan_.faces()) {
      if (height_m_ > face.top_m || !near(face.line)) continue;
      const double wall_m = length(face.line);
      for (const auto& [from_m, to_m] : free_parts(face)) {
        for (const double along_m : spaced(from_m, to_m, step_m_)) {
          const Point2 at =
              snapped(at_fraction(face.line, along_m / wall_m) + (face.half_wall_m + face.hung_m) * face.off);
          const Room* room = face.traced ? checks::room_at(plan_.storey(), at) : face.room;
          if (may_go(at, height_m_, room) && plan_.is_clear(at, height_m_, face, opening_clear_m_))
            add(at, height_m_);
        }
      }
    }
  }

  /// Parts of a face between its openings, in metres along its line.
  std::vector<std::pair<double, double>> free_parts(const WallFace& face) const {
    constexpr double in_line_m = 0.01;
    const double wall_m = length(face.line);
    std::vector<std::pair<double, double>> taken;
    for (const WallOpening& opening : plan_.openings()) {
      const bool here = distance_to_segment(opening.line.a, face.line) < in_line_m &&
                        distance_to_segment(opening.line.b, face.line) < in_line_m;
      if (!here || !opening.stands_at(height_m_, opening_clear_m_)) continue;
      // The list makes it a pair of values; of two temporaries it would be a pair of references.
      const auto [low, high] = std::minmax(
          {nearest_fraction(opening.line.a, face.line), nearest_fraction(opening.line.b, face.line)});
      taken.emplace_back(low * wall_m - opening_clear_m_, high * wall_m + opening_clear_m_);
    }
    std::ranges::sort(taken);
    std::vector<std::pair<double, double>> parts;
    double from_m = face.from_m;
    for (const auto& [low_m, high_m] : taken) {
      if (low_m >= from_m) parts.emplace_back(from_m, std::min(low_m, face.to_m));
      from_m = std::max(from_m, high_m);
    }
    parts.emplace_back(from_m, face.to_m);
    if (request_.cable_m) {
      std::erase_if(parts, [&](const auto& part) {
        const double middle_m = (part.first + part.second) / 2;
        return part.second - part.first < kLeastPierM &&
               plan_.pier_m(face, middle_m, height_m_, opening_clear_m_) < kLeastPierM;
      });
    }
    return parts;
  }

  /// On ceilings or floors.
  void in_rooms(double clear_m) {
    for (const Room& room : plan_.storey().rooms) {
      if (!room_allowed(&room)) continue;
      const Box2 box = bounding_box(room.corners);
      const Point2 size = box.max - box.min;
      const double step_m =
          std::max(step_m_, std::sqrt(size.x * size.y / static_cast<double>(kMostCeilingPlaces)));
      constexpr double of_a_small_room = 0.9;
      const double off_m =
          std::min(clear_m, of_a_small_room * distance_to_edges(room.corners, label_point(room.corners)));
      const Point2 through = &room == home_ ? request_.place.at : 0.5 * (box.min + box.max);
      const auto first = [&](double low, double at) { return std::ceil((low - at) / step_m); };
      for (double row = first(box.min.y, through.y); through.y + row * step_m <= box.max.y; ++row) {
        for (double column = first(box.min.x, through.x); through.x + column * step_m <= box.max.x;
             ++column) {
          const Point2 at = snapped({through.x + column * step_m, through.y + row * step_m});
          if (contains(room.corners, at) && plan_.off_walls_m(room, at, height_m_) >= off_m &&
              may_go(at, height_m_, &room) && plan_.is_open(at, height_m_, opening_clear_m_))
            add(at, height_m_);
        }
      }
    }
  }

  /// Both jambs at the radio's height, and along the head.
  void on_frame() {
    if (storey_ != request_.place.storey || !request_.hangs) return;
    const Point2 hung = request_.place.at;
    const auto off = [&](const WallOpening& opening) { return distance_to_segment(hung, opening.line); };
    const auto own = std::ranges::min_element(plan_.openings(), {}, off);
    if (own == plan_.openings().end() || off(*own) > kFrameReachM) return;
    const double width_m = length(own->line);
    const Point2 along = (1 / width_m) * (own->line.b - own->line.a);
    const double side = cross(along, hung - own->line.a) >= 0 ? 1 : -1;
    const Point2 out = side * (own->half_wall_m + kMountedOffM) * Point2{-along.y, along.x};
    const auto try_at = [&](double along_m, double height_m) {
      const Point2 at = snapped(own->line.a + along_m * along + out);
      if (may_go(at, height_m, home_) && plan_.is_open(at, height_m, opening_clear_m_, own->opening))
        add(at, height_m);
    };
    const double head_m = own->head_m + kBesideLeafM;
    const bool over = head_m <= plan_.storey().height_m - kBesideLeafM;
    const double jamb_m = std::clamp(height_m_, own->sill_m, own->head_m);
    for (const double along_m : {-kBesideLeafM, width_m + kBesideLeafM}) try_at(along_m, jamb_m);
    if (!over) return;
    for (const double along_m : spaced(0, width_m, step_m_)) try_at(along_m, head_m);
  }

  void on_line(const std::vector<Point2>& line) {
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
      const Segment2 part{line[i], line[i + 1]};
      const double part_m = length(part);
      if (part_m == 0) continue;
      for (const double along_m : spaced(0, part_m, step_m_)) {
        if (i > 0 && along_m == 0) continue;
        const Point2 at = snapped(at_fraction(part, along_m / part_m));
        if (may_go(at, height_m_, checks::room_at(plan_.storey(), at)) && is_free_on_line(at))
          add(at, height_m_);
      }
    }
  }

  /// What is fixed to a frame may be led along it.
  bool is_free_on_line(Point2 at) const {
    if (request_.surface != MountingSurface::frame) return plan_.is_open(at, height_m_, opening_clear_m_);
    return std::ranges::any_of(plan_.openings(),
                               [&](const WallOpening& opening) {
                                 return distance_to_segment(at, opening.line) <= kFrameReachM &&
                                        plan_.is_open(at, height_m_, opening_clear_m_, opening.opening);
                               }) ||
           plan_.is_open(at, height_m_, opening_clear_m_);
  }

  /// Whether a wall is worth looking at: some place along it may lie within the radius.
  bool near(const Segment2& line) const {
    const auto* radius = reach<Mobility::Radius>();
    return radius == nullptr || distance_to_segment(request_.place.at, line) <= radius->radius_m + 1;
  }

  bool may_go(Point2 at, double height_m, const Room* room) const {
    if (!room_allowed(room) || !has_socket(room, at)) return false;
    if (const auto* radius = reach<Mobility::Radius>())
      return std::hypot(distance(at, request_.place.at), height_m - request_.place.height_m) <=
                 radius->radius_m &&
             room == home_ && !plan_.is_parted(request_.place.at, at);
    if (const auto* within = reach<Mobility::Within>()) return contains(within->corners, at);
    return true;
  }

  bool room_allowed(const Room* room) const {
    if (const auto* within = reach<Mobility::WithinRoom>()) {
      if (room == nullptr || room->name != within->room) return false;
    }
    if (room == nullptr) return !has_rooms_ || request_.may_move.has_value();
    if (room->keep_out && request_.keeps_out) return false;
    return !is_wet(*room) || room == home_;
  }

  bool has_socket(const Room* room, Point2 at) const {
    if (!request_.cable_m || room == nullptr || !room->sockets) return true;
    return std::ranges::any_of(*room->sockets, [&](const Socket& socket) {
      const auto from = socket_at(*room, socket);
      return from && along_walls_m(*room, *from, at) <= *request_.cable_m;
    });
  }

  void add(Point2 at, double height_m) { found_.push_back({storey_, at, height_m}); }

  const StoreyPlan& plan_;
  const MountingRequest& request_;
  std::size_t storey_;
  double step_m_;
  double height_m_;
  double opening_clear_m_;
  const Room* home_;  ///< the room that it hangs in now
  bool has_rooms_ = false;
  std::vector<Placement> found_;
};

MountingPlaces::MountingPlaces(const Site& site) : site_(site) {
  for (std::size_t s = 0; s < site.storeys.size(); ++s)
    storeys_.push_back(std::make_unique<const StoreyPlan>(site, s));
}

MountingPlaces::~MountingPlaces() = default;

std::vector<Placement> MountingPlaces::find(const MountingRequest& request, double step_m) const {
  std::vector<Placement> found;
  for (std::size_t s = 0; s < storeys_.size(); ++s) {
    if (request.may_move && s != request.place.storey) continue;
    const std::vector<Placement> here = MountingSearch(site_, *storeys_[s], request, s, step_m).run();
    found.insert(found.end(), here.begin(), here.end());
  }
  return found;
}

MountingRequest mounting_request(const Site& site, const Hub& radio) {
  return {.place = radio.place,
          .may_move = radio.may_move,
          .surface = site.profiles.at(radio.profile).mounted_on,
          .cable_m = radio.cable_m,
          .keeps_out = true};
}

MountingRequest mounting_request(const Site& site, const Repeater& radio) {
  return {.place = radio.place,
          .may_move = radio.may_move,
          .surface = site.profiles.at(radio.profile).mounted_on,
          .cable_m = radio.cable_m,
          .keeps_out = true};
}

MountingRequest mounting_request(const Site& site, const Device& device) {
  return {.place = device.place,
          .may_move = device.may_move,
          .surface = site.profiles.at(device.profile).mounted_on};
}

}  // namespace linkmargin
