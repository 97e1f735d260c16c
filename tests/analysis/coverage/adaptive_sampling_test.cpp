#include "linkmargin/analysis/coverage/adaptive_sampling.hpp"

#include "linkmargin/base/random.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstring>
#include <vector>

using namespace linkmargin;

namespace {

using Field = MapCell (*)(Point2);

struct Filled {
  std::vector<MapCell> cells;
  std::vector<int> puts;
  long finds = 0;
};

bool nothing_stands(const Box2&) {
  return false;
}

LevelGrid grid_of(int columns, int rows) {
  return {{-1.2, 3.4}, 0.1, columns, rows, 1.5};
}

Filled fill(const LevelGrid& grid, double within_db, Field field,
            bool (*parted)(const Box2&) = nothing_stands, int threads = 1) {
  Filled filled{std::vector<MapCell>(grid.size()), std::vector<int>(grid.size()), 0};
  std::atomic<long> finds = 0;
  const AdaptiveSampling tiles{.within_db = within_db,
                               .find =
                                   [&](Point2 at) {
                                     ++finds;
                                     return field(at);
                                   },
                               .parted = parted,
                               .put =
                                   [&](std::size_t cell, const MapCell& value) {
                                     filled.cells[cell] = value;
                                     ++filled.puts[cell];
                                   }};
  Progress progress({}, AdaptiveSampling::steps(grid));
  tiles.fill(grid, threads, progress);
  filled.finds = finds;
  return filled;
}

MapCell exact(const LevelGrid& grid, std::size_t cell, Field field) {
  const auto columns = static_cast<std::size_t>(grid.columns);
  const double column = static_cast<double>(cell % columns);
  const double row = static_cast<double>(cell / columns);
  return field({grid.corner.x + (column + 0.5) * grid.step_m, grid.corner.y + (row + 0.5) * grid.step_m});
}

struct Worst {
  double loss_db = 0;
  double sigma_db = 0;
  std::size_t other_hub = 0;
};

Worst worst(const LevelGrid& grid, const Filled& filled, Field field) {
  Worst worst;
  for (std::size_t cell = 0; cell < grid.size(); ++cell) {
    const MapCell there = exact(grid, cell, field);
    const MapCell& got = filled.cells[cell];
    worst.loss_db =
        std::max(worst.loss_db, std::abs(static_cast<double>(got.path_loss_db - there.path_loss_db)));
    worst.sigma_db = std::max(worst.sigma_db, std::abs(static_cast<double>(got.sigma_db - there.sigma_db)));
    worst.other_hub += got.hub != there.hub ? 1 : 0;
  }
  return worst;
}

/// As of free space from a spot off the grid's middle, with ripples some 3 m long.
MapCell smooth(Point2 at) {
  const double d = std::hypot(at.x - 2.03, at.y - 5.07) + 0.3;
  return {static_cast<float>(31 + 20 * std::log10(d) + 2 * std::sin(2 * at.x) * std::cos(2 * at.y)),
          static_cast<float>(2 + std::sin(at.x)), 0};
}

/// Every cell another, and far from those two cells away along its row and its column.
MapCell rough(Point2 at) {
  const LevelGrid grid = grid_of(1, 1);
  const std::int64_t column = std::llround((at.x - grid.corner.x) / grid.step_m - 0.5);
  const std::int64_t row = std::llround((at.y - grid.corner.y) / grid.step_m - 0.5);
  const RandomStream random(7, static_cast<std::uint64_t>(column));
  const double draw = random.uniform(static_cast<std::uint64_t>(row));
  const double loss_db = 20.0 * static_cast<double>((column / 2 + row / 2) % 2) + 10 * draw;
  return {static_cast<float>(60 + loss_db), static_cast<float>(9 * draw),
          static_cast<std::uint16_t>(draw * 3)};
}

/// Two levels on either side of a slanting wall; their step is less than what fillings may be off.
constexpr double kStepDb = 0.45;
double beyond_wall(Point2 at) {
  return at.x - 0.3 * at.y - 1.04;
}
MapCell walled(Point2 at) {
  return {static_cast<float>(beyond_wall(at) > 0 ? 60 + kStepDb : 60), 1, 0};
}
bool wall_stands(const Box2& block) {
  const double corners[] = {beyond_wall(block.min), beyond_wall(block.max),
                            beyond_wall({block.min.x, block.max.y}), beyond_wall({block.max.x, block.min.y})};
  return *std::ranges::min_element(corners) <= 0 && *std::ranges::max_element(corners) >= 0;
}

}  // namespace

TEST_CASE("every cell is put once, and what changes between cells two apart is found, at any size") {
  for (const auto& [columns, rows] : {std::pair{1, 1}, {16, 16}, {15, 17}, {33, 5}, {2, 47}, {100, 49}}) {
    const LevelGrid grid = grid_of(columns, rows);
    for (const int threads : {1, 3}) {
      const auto& columns_shown = columns;
      CAPTURE(columns_shown);
      CAPTURE(threads);
      const Filled filled = fill(grid, 0.5, rough, nothing_stands, threads);
      CHECK(std::ranges::all_of(filled.puts, [](int puts) { return puts == 1; }));
      const Worst off = worst(grid, filled, rough);
      CHECK(off.loss_db == 0);
      CHECK(off.sigma_db == 0);
      CHECK(off.other_hub == 0);
    }
  }
}

TEST_CASE("a plane is filled in from its tiles' nine spots; what is asked of it is small") {
  const LevelGrid grid = grid_of(160, 96);
  const Field plane = [](Point2 at) {
    return MapCell{static_cast<float>(70 + at.x - 2 * at.y), static_cast<float>(3 + 0.1 * at.y), 4};
  };
  const Filled filled = fill(grid, 0.01, plane);
  CHECK(filled.finds == 11 * 7 + 60 * 5);  // tiles' corners, and five spots each
  const Worst off = worst(grid, filled, plane);
  CHECK(off.loss_db <= 1e-4);  // of single precision
  CHECK(off.sigma_db <= 1e-5);
  CHECK(off.other_hub == 0);
}

TEST_CASE("a smooth field is off by no more than asked; the less is asked, the more is found") {
  const LevelGrid grid = grid_of(75, 61);
  const auto cells = static_cast<long>(grid.size());
  long before = 0;
  for (const double within_db : {1.0, 0.5, 0.1}) {
    CAPTURE(within_db);
    const Filled filled = fill(grid, within_db, smooth);
    const Worst off = worst(grid, filled, smooth);
    CHECK(off.loss_db <= within_db);
    CHECK(off.loss_db > within_db / 20);  // else this test could not fail
    CHECK(off.sigma_db <= within_db);
    CHECK(filled.finds > before);
    before = filled.finds;
    if (within_db >= 0.5) CHECK(filled.finds < cells / 4);
  }
  const Filled all = fill(grid, 1e-9, smooth);
  CHECK(worst(grid, all, smooth).loss_db == 0);
}

TEST_CASE("spread that varies is found where the loss would be filled in") {
  const LevelGrid grid = grid_of(64, 64);
  const Field bent = [](Point2 at) {
    return MapCell{50, static_cast<float>(1 + 0.5 * (at.x + 1.2) * (at.x + 1.2)), 0};
  };
  const Filled filled = fill(grid, 0.1, bent);
  CHECK(filled.finds > static_cast<long>(5 * 5 + 16 * 5));  // more than its tiles' nine spots
  CHECK(worst(grid, filled, bent).sigma_db <= 0.1);
}

TEST_CASE("where a block is parted nothing is blurred") {
  const LevelGrid grid = grid_of(90, 70);
  const Filled with = fill(grid, 0.5, walled, wall_stands);
  CHECK(worst(grid, with, walled).loss_db == 0);
  CHECK(with.finds < static_cast<long>(grid.size()) / 3);
  const Filled without = fill(grid, 0.5, walled);  // what `parted` is there for
  CHECK(worst(grid, without, walled).loss_db > 0.2);
}

TEST_CASE("the border between two hubs runs as found, though their levels agree there") {
  const LevelGrid grid = grid_of(80, 80);
  const Field shared = [](Point2 at) {
    return MapCell{60, 1, static_cast<std::uint16_t>(beyond_wall(at) > 0 ? 1 : 0)};
  };
  const Filled filled = fill(grid, 0.5, shared);
  CHECK(worst(grid, filled, shared).other_hub == 0);
  CHECK(filled.finds < static_cast<long>(grid.size()) / 3);
}

TEST_CASE("the same bytes for any number of threads") {
  const LevelGrid grid = grid_of(131, 77);
  const Filled one = fill(grid, 0.3, smooth);
  for (const int threads : {2, 5}) {
    const Filled several = fill(grid, 0.3, smooth, nothing_stands, threads);
    CHECK(several.finds == one.finds);
    for (std::size_t cell = 0; cell < grid.size(); ++cell) {
      REQUIRE(std::memcmp(&several.cells[cell].path_loss_db, &one.cells[cell].path_loss_db, sizeof(float)) ==
              0);
      REQUIRE(std::memcmp(&several.cells[cell].sigma_db, &one.cells[cell].sigma_db, sizeof(float)) == 0);
    }
  }
}

TEST_CASE("progress is told to the end") {
  const LevelGrid grid = grid_of(40, 33);
  std::vector<double> shares;
  Progress progress([&](double share) { shares.push_back(share); }, AdaptiveSampling::steps(grid));
  const AdaptiveSampling tiles{
      .within_db = 0.5, .find = smooth, .parted = nothing_stands, .put = [](std::size_t, const MapCell&) {}};
  tiles.fill(grid, 2, progress);
  CHECK(shares.size() == AdaptiveSampling::steps(grid));
  CHECK(std::ranges::is_sorted(shares));
  CHECK(shares.back() == 1);
}
