#pragma once

#include "linkmargin/base/diagnostic.hpp"
#include "linkmargin/base/length_unit.hpp"
#include "linkmargin/site/building.hpp"
#include "linkmargin/site/layout/room_edges.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

/// Places of rooms that were typed by size and neighbour. Not installed.
namespace linkmargin::layout {

/// Names all rooms of a storey that do not stand by it themselves, where no room is called so.
inline constexpr const char* kHouse = "house";

/// Up to this, sizes that do not agree are slips of measuring and are closed. Common practice: a tape or a
/// laser held to plaster.
inline constexpr double kCloseM = 0.05;

/// Rooms apart by less than a wall share it. The thickness where the storey states none: common practice.
inline constexpr double kUsualWallM = 0.1;

/// On which side of its neighbour a room stands.
enum class Relation { left_of, right_of, above, below };

inline constexpr EnumName<Relation> kRelationWords[] = {{"left_of", Relation::left_of},
                                                        {"right_of", Relation::right_of},
                                                        {"above", Relation::above},
                                                        {"below", Relation::below}};

struct Neighbour {
  Relation relation = Relation::left_of;
  std::string room;
};

/// A room as it was typed.
struct SizedRoom {
  std::string name;
  std::optional<Point2> size{};         ///< width and depth; absent: the shape of the rooms it is over
  std::vector<Neighbour> neighbours{};  ///< on the same storey
  std::vector<std::string> over{};      ///< rooms of the storey beneath
  std::optional<Side> flush_x{};        ///< left or right
  std::optional<Side> flush_y{};        ///< bottom or top
  std::optional<double> shift_m{};      ///< along the common wall, to the right or up
  std::optional<Point2> shift_over{};   ///< against the rooms it is over
  double gap_m = 0;                     ///< to its neighbour
  std::optional<double> front_m{};      ///< of its bottom edge over the neighbour's
  bool apart = false;                   ///< it shares no wall: measured from outside
};

/// One key of one room.
struct Statement {
  std::size_t room = 0;  ///< its position among those to lay out
  std::string_view key;  ///< empty: the room itself
};

struct LayoutFault {
  DiagnosticCode code = DiagnosticCode::impossible;
  Statement at;
  std::string message;
  std::optional<Statement> other{};  ///< what it contradicts
  std::string hint{};
};

struct RoomLayout {
  std::vector<Polygon2> corners;  ///< of each room, snapped; empty where a fault tells why
  std::vector<Inset> insets;      ///< of each room
  std::vector<ClosedSize> closed;
  std::vector<LayoutFault> faults;
};

struct Surroundings {
  std::span<const Room> known;              ///< rooms of the same storey whose corners are known
  std::span<const Room> beneath;            ///< of the storey beneath
  double wall_m = kUsualWallM;              ///< rooms less apart than this share a wall
  std::optional<MeasuredInside> inside{};   ///< absent: sizes count to the middle of the walls
  LengthUnit unit = LengthUnit::metre;      ///< of what faults say
  std::span<const Inset> known_insets{};    ///< of `known`; empty: by `inside`, else none
  std::span<const Inset> beneath_insets{};  ///< of `beneath`; empty: none
};

/// Places rooms one after the other, each when those it stands by have a place; the first without a
/// neighbour, where no room is known yet, has its lower left corner at the origin. A free edge near one of a
/// room that is placed already is brought to it: up to a wall's thickness where the two rooms face each
/// other, up to kCloseM where the edges run on. What changed a size by more than kWeldM is listed.
/// Contradictions are faults that name both statements.
/// Measured inside, a shift counts between the inner faces of walls, a gap and a front between the outer
/// ones, and so does the shift of what stands apart; edges that are flush alone are those of the lines.
RoomLayout lay_out(std::span<const SizedRoom> rooms, const Surroundings& around);

}  // namespace linkmargin::layout
