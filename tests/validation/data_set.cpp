#include "data_set.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/yaml/site/tables.hpp"

#include <cmath>
#include <cstdlib>
#include <fstream>
#include <map>
#include <stdexcept>

namespace linkmargin::validation {
namespace {

/// A CSV file with one header row, without quotes; empty cells are allowed.
class CsvFile {
 public:
  explicit CsvFile(const std::filesystem::path& path) : name_(path.string()) {
    std::ifstream file(path, std::ios::binary);
    if (!file) throw std::runtime_error("cannot open " + name_);
    std::string line;
    while (std::getline(file, line)) {
      if (!line.empty() && line.back() == '\r') line.pop_back();
      if (columns_.empty()) {
        const auto names = split(line);
        for (std::size_t i = 0; i < names.size(); ++i) columns_[names[i]] = i;
      } else if (!line.empty()) {
        rows_.push_back(split(line));
        if (rows_.back().size() != columns_.size()) throw std::runtime_error(name_ + ": uneven row");
      }
    }
  }

  std::size_t size() const { return rows_.size(); }
  const std::string& text(std::size_t row, const std::string& column) const {
    const auto found = columns_.find(column);
    if (found == columns_.end()) throw std::runtime_error(name_ + ": no column " + column);
    return rows_[row][found->second];
  }
  bool has(const std::string& column) const { return columns_.count(column) > 0; }
  double number(std::size_t row, const std::string& column) const {
    const auto value = parse_number(text(row, column));
    if (!value) throw std::runtime_error(name_ + ": no number in column " + column);
    return *value;
  }

 private:
  static std::vector<std::string> split(const std::string& line) {
    std::vector<std::string> cells{""};
    for (const char letter : line) {
      if (letter == ',') {
        cells.emplace_back();
      } else {
        cells.back() += letter;
      }
    }
    return cells;
  }

  std::string name_;
  std::map<std::string, std::size_t> columns_;
  std::vector<std::vector<std::string>> rows_;
};

Point3 place(const CsvFile& file, std::size_t row, const std::string& end) {
  return {file.number(row, end + "_x_m"), file.number(row, end + "_y_m"), file.number(row, end + "_z_m")};
}

double distance_m(Point2 a, Point2 b) {
  return std::hypot(a.x - b.x, a.y - b.y);
}

Point2 nearest_on(const Segment2& wall, Point2 p) {
  const Point2 along{wall.b.x - wall.a.x, wall.b.y - wall.a.y};
  const double length_squared = along.x * along.x + along.y * along.y;
  double t = ((p.x - wall.a.x) * along.x + (p.y - wall.a.y) * along.y) / length_squared;
  t = std::min(1.0, std::max(0.0, t));
  return {wall.a.x + t * along.x, wall.a.y + t * along.y};
}

/// Where the line of a wall, drawn on beyond `end`, meets the line of another; nothing when they run side by
/// side or it would have to be shortened.
std::optional<Point2> drawn_on(Point2 start, Point2 end, const Segment2& other) {
  const Point2 along{end.x - start.x, end.y - start.y};
  const Point2 across{other.b.x - other.a.x, other.b.y - other.a.y};
  const double sine = along.x * across.y - along.y * across.x;
  if (std::abs(sine) < 1e-9) return std::nullopt;
  const double t = ((other.a.x - start.x) * across.y - (other.a.y - start.y) * across.x) / sine;
  if (t <= 1) return std::nullopt;
  return Point2{start.x + t * along.x, start.y + t * along.y};
}

Point2 joined_end(Point2 start, Point2 end, std::size_t self, const std::vector<ListedWall>& walls) {
  Point2 best = end;
  for (std::size_t i = 0; i < walls.size(); ++i) {
    if (i == self || distance_m(nearest_on(walls[i].line, end), end) > kJoinM) continue;
    const auto on = drawn_on(start, end, walls[i].line);
    if (on && distance_m(*on, end) <= kJoinM && distance_m(*on, start) > distance_m(best, start)) best = *on;
  }
  return best;
}

}  // namespace

std::optional<std::filesystem::path> data_sets_folder() {
  const char* named = std::getenv("LINKMARGIN_DATASETS");
  if (named == nullptr || *named == '\0') return std::nullopt;
  const std::filesystem::path folder{named};
  if (!std::filesystem::is_directory(folder)) return std::nullopt;
  return folder;
}

DataSet read_data_set(const std::filesystem::path& folder, bool path_loss) {
  DataSet set;
  const CsvFile links(folder / "links.csv");
  for (std::size_t row = 0; row < links.size(); ++row) {
    set.frequency_hz = links.number(row, "freq_mhz") * 1e6;
    const double value = links.number(row, "rssi_dbm_or_pathloss_db");
    if (links.has("heard_well") && links.text(row, "heard_well") != "1") continue;  // weak ones are missing
    set.links.push_back({links.text(row, "tx_id"), links.text(row, "rx_id"), links.text(row, "split"),
                         place(links, row, "tx"), place(links, row, "rx"), path_loss ? -value : value,
                         links.has("phone") ? links.text(row, "phone") : std::string()});
  }
  const CsvFile walls(folder / "walls.csv");
  for (std::size_t row = 0; row < walls.size(); ++row) {
    ListedWall wall{{{walls.number(row, "x1_m"), walls.number(row, "y1_m")},
                     {walls.number(row, "x2_m"), walls.number(row, "y2_m")}},
                    walls.text(row, "material_or_unknown"),
                    std::nullopt};
    if (walls.has("thickness_m") && !walls.text(row, "thickness_m").empty()) {
      wall.thickness_m = walls.number(row, "thickness_m");
    }
    set.walls.push_back(wall);
  }
  if (!std::filesystem::exists(folder / "obstacles.csv")) return set;
  const CsvFile obstacles(folder / "obstacles.csv");
  for (std::size_t row = 0; row < obstacles.size(); ++row) {
    const std::string& name = obstacles.text(row, "obstacle_id");
    if (set.obstacles.empty() || set.obstacles.back().name != name)
      set.obstacles.push_back({name, obstacles.text(row, "type"), {}});
    set.obstacles.back().corners.push_back(
        snapped(Point2{obstacles.number(row, "x_m"), obstacles.number(row, "y_m")}));
  }
  return set;
}

std::map<std::string, Point2> read_places(const std::filesystem::path& file, const std::string& id,
                                          const std::string& x, const std::string& y) {
  const CsvFile table(file);
  std::map<std::string, Point2> places;
  for (std::size_t row = 0; row < table.size(); ++row)
    places[table.text(row, id)] = {table.number(row, x), table.number(row, y)};
  return places;
}

std::vector<ListedWall> joined(std::vector<ListedWall> walls) {
  const std::vector<ListedWall> listed = walls;
  for (std::size_t i = 0; i < walls.size(); ++i) {
    const Segment2 line = listed[i].line;
    walls[i].line = {joined_end(line.b, line.a, i, listed), joined_end(line.a, line.b, i, listed)};
  }
  return walls;
}

Site empty_site(const std::string& name, double frequency_hz, double height_m) {
  Site site;
  site.name = name;
  site.radio.frequency_hz = frequency_hz;
  site.materials = embedded_tables().materials;
  Storey storey;
  storey.name = name;
  storey.height_m = height_m;
  storey.outer_wall = {kNoMaterial, {}};
  storey.inner_wall = {kNoMaterial, {}};
  site.storeys = {storey};
  return site;
}

}  // namespace linkmargin::validation
