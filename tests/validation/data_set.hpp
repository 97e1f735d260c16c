#pragma once

#include "linkmargin/geometry/point.hpp"
#include "linkmargin/site/site.hpp"

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace linkmargin::validation {

/// One measured link: the mean of many readings of one place.
struct MeasuredLink {
  std::string name;    ///< of the device
  std::string anchor;  ///< of the fixed end
  std::string split;   ///< "calibration", "robot_test", ...
  Point3 device;
  Point3 fixed;
  double level_db = 0;     ///< a level in dBm, or minus a path loss
  std::string receiver{};  ///< which of several read it, where the set tells
};

/// A wall as the data set lists it.
struct ListedWall {
  Segment2 line;
  std::string material;
  std::optional<double> thickness_m;
};

/// A body as the data set lists it.
struct ListedObstacle {
  std::string name;
  std::string type;
  Polygon2 corners;
};

/// What one folder of open measurements holds.
struct DataSet {
  double frequency_hz = 0;
  std::vector<MeasuredLink> links;
  std::vector<ListedWall> walls;
  std::vector<ListedObstacle> obstacles{};
};

/// The folder named by LINKMARGIN_DATASETS; absent when it is not set, empty, or no such folder.
std::optional<std::filesystem::path> data_sets_folder();

/// @param path_loss  the value column is a path loss, which is turned into a level
/// @throws std::runtime_error for a file that is missing or not as described there
DataSet read_data_set(const std::filesystem::path& folder, bool path_loss);

/// Places by name, from a table apart.
std::map<std::string, Point2> read_places(const std::filesystem::path& file, const std::string& id,
                                          const std::string& x, const std::string& y);

/// Lists give centre lines, which end short of a wall they meet by half its thickness: an end at most this
/// far from another wall is drawn on to it. Never shortens a wall.
inline constexpr double kJoinM = 0.2;
std::vector<ListedWall> joined(std::vector<ListedWall> walls);

/// A site of one storey with the default tables and no walls yet.
Site empty_site(const std::string& name, double frequency_hz, double height_m);

}  // namespace linkmargin::validation
