#include "linkmargin/analysis/coverage/direct_path_map.hpp"

#include "linkmargin/analysis/coverage/row_accumulation.hpp"
#include "linkmargin/base/parallel.hpp"
#include "linkmargin/link/mechanism/distance_model.hpp"
#include "linkmargin/link/path_loss.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <string>
#include <tuple>

namespace linkmargin {
namespace {

constexpr int kBandRows = 32;

std::int64_t steps_of(double loss_db) {
  return std::llround(loss_db * kStepsPerDb);
}

/// A crossing's variance in the upper bits, and one crossing in the lower: both add up exactly, as far as
/// kMostCrossings.
constexpr std::int64_t kMostCrossings = 1 << 12;
constexpr double kSpreadStepsPerSquareDb = 0x1p20;

std::int64_t spread_steps_of(const Barrier& barrier) {
  const double sigma_db = barrier.transmission.sigma_db();
  return std::llround(sigma_db * sigma_db * kSpreadStepsPerSquareDb) * kMostCrossings + 1;
}

/// Tells transmissions apart, which have no name of their own: what the wall is made of, and some losses.
using Build = std::tuple<std::string, double, double, double>;

Build build_of(const Barrier& barrier) {
  const Transmission& of = barrier.transmission;
  return {barrier.material, of.loss_db(1), of.loss_db(0.6), of.loss_db(0.3)};
}

/// Whether a slab lies between two heights, an end on it counting as over it.
bool between(const Slab& plate, double z_m, double other_z_m) {
  return (z_m >= plate.z_m) != (other_z_m >= plate.z_m);
}

}  // namespace

DirectPathMap::DirectPathMap(const Scene& scene) : scene_(&scene) {
  itemises_ = distance_term(scene.radio(), 1, {}, false).itemises;
  kinds_.emplace_back();
  if (!itemises_) return;
  add_panels();
  add_plates();
  add_obstacles();
}

void DirectPathMap::add_panels() {
  using Key = std::tuple<double, double, Build>;  // the normal pointing to the right, or up
  std::map<Key, std::vector<const Panel*>> kinds;
  std::vector<const Panel*> constant;
  for (const Panel& panel : scene_->panels()) {
    if (panel.barrier == kNone) continue;
    const Barrier& barrier = scene_->barriers()[panel.barrier];
    if (!barrier.transmission.depends_on_angle()) {
      constant.push_back(&panel);
      continue;
    }
    const bool turn = panel.normal < Point2{0, 0};
    const Point2 normal = turn ? Point2{-panel.normal.x, -panel.normal.y} : panel.normal;
    kinds[{normal.x, normal.y, build_of(barrier)}].push_back(&panel);
  }
  const auto put = [&](const std::vector<const Panel*>& panels, Kind& kind) {
    kind.first = static_cast<std::uint32_t>(panels_.size());
    for (const Panel* panel : panels) {
      panels_.push_back({panel->base, panel->bottom_m, panel->top_m});
      panel_steps_.push_back(
          kind.table ? 0 : steps_of(scene_->barriers()[panel->barrier].transmission.loss_db(1)));
      panel_spreads_.push_back(spread_steps_of(scene_->barriers()[panel->barrier]));
    }
    kind.last = static_cast<std::uint32_t>(panels_.size());
  };
  put(constant, kinds_.front());
  std::map<Build, std::optional<AngleTable>> tables;
  for (const auto& [key, panels] : kinds) {
    const auto& [x, y, build] = key;
    const auto [table, is_new] = tables.try_emplace(build);
    if (is_new) table->second = angle_table(scene_->barriers()[panels.front()->barrier].transmission);
    tabled_ = tabled_ && table->second;
    Kind kind;
    kind.table = table->second;
    kind.normal = {x, y};
    put(panels, kind);
    kinds_.push_back(std::move(kind));
  }
}

void DirectPathMap::add_plates() {
  std::map<Build, std::size_t> kinds;
  for (const Slab& plate : scene_->slabs()) {
    const auto position = static_cast<std::uint32_t>(plates_.size());
    plates_.push_back({plate.outline, plate.holes, plate.z_m});
    const Barrier& barrier = scene_->barriers()[plate.barrier];
    plate_steps_.push_back(steps_of(barrier.transmission.loss_db(1)));
    plate_spreads_.push_back(spread_steps_of(barrier));
    std::size_t kind = 0;
    if (barrier.transmission.depends_on_angle()) {
      const auto [known, is_new] = kinds.try_emplace(build_of(barrier), kinds_.size());
      kind = known->second;
      if (is_new) {
        kinds_.emplace_back().table = angle_table(barrier.transmission);
        tabled_ = tabled_ && kinds_.back().table;
      }
    }
    kinds_[kind].plates.push_back(position);
  }
}

void DirectPathMap::add_obstacles() {
  for (const ObstaclePrism& obstacle : scene_->obstacles()) {
    obstacles_.push_back({obstacle.outline, obstacle.box, obstacle.bottom_m, obstacle.top_m});
    obstacle_steps_.push_back(steps_of(scene_->barriers()[obstacle.barrier].transmission.loss_db(1)));
    obstacle_spreads_.push_back(spread_steps_of(scene_->barriers()[obstacle.barrier]));
  }
}

bool DirectPathMap::uses_projection(Point3 end, double z_m) const {
  const PropagationSettings& radio = scene_->radio();
  if (radio.ground_reflection || !tabled_) return false;
  switch (radio.model) {
    case PathLossModel::free_space:
    case PathLossModel::log_distance:
    case PathLossModel::walls:
      return true;
    case PathLossModel::site_general:
      if (radio.form == SiteGeneralForm::coefficients) return false;
      [[fallthrough]];
    case PathLossModel::multi_wall:
      return std::ranges::none_of(scene_->slabs(),
                                  [&](const Slab& plate) { return between(plate, end.z, z_m); });
  }
  return false;
}

/// One map: the projections of everything from one end.
class DirectPathCast {
 public:
  DirectPathCast(const DirectPathMap& map, Point3 end, const LevelGrid& level, std::span<float> loss_db,
                 const DirectPathSpread* spread)
      : map_(map),
        end_(end),
        grid_(level.corner, level.step_m, level.columns, level.rows, level.z_m),
        panels_(map.panels_, end, grid_),
        loss_db_(loss_db),
        spread_(spread) {
    for (const LevelPlate& plate : map.plates_) plates_.emplace_back(plate, end, grid_);
    for (const UprightPrism& obstacle : map.obstacles_) obstacles_.emplace_back(obstacle, end, grid_);
    for (const double x : grid_.xs) {
      x_.push_back(static_cast<float>(x - end.x));
      x_squared_.push_back(static_cast<float>((x - end.x) * (x - end.x)));
    }
    // Every model's distance term is linear over the logarithm of the distance.
    const PropagationSettings& radio = map.scene_->radio();
    const DistanceTerm at_1m = distance_term(radio, 1, {}, false);
    const double at_1m_db = at_1m.loss_db;
    model_variance_ = at_1m.sigma_db * at_1m.sigma_db;
    const double decades_db = distance_term(radio, 1000, {}, false).loss_db - at_1m_db;
    at_1m_db_ = static_cast<float>(at_1m_db);
    octave_db_ = static_cast<float>(decades_db / 3 / 2 * std::log10(2.0));
  }

  void find(int threads) const {
    const std::vector<Span> bands = find_bands();
    parallel_for(bands.size(), threads, [&](std::size_t band) { find(bands[band]); });
  }

 private:
  /// Working memory of a thread: some rows.
  struct Work {
    explicit Work(std::size_t columns)
        : steps(columns + 1),
          spreads(columns + 1),
          changes(columns + 1),
          counts(columns),
          inverse(columns),
          sums(columns) {}
    std::vector<std::int64_t> steps;
    std::vector<std::int64_t> spreads;
    std::vector<int> changes;
    std::vector<float> counts;
    std::vector<float> inverse;
    std::vector<double> sums;
    std::vector<Span> spans;
    PanelProjection::Band band;
  };

  std::vector<Span> find_bands() const {
    const Span level = panels_.level_rows();
    std::vector<Span> bands;
    for (const auto& [from, to] : {Span{0, level.from}, level, Span{level.to, grid_.rows}}) {
      for (int row = from; row < to; row += kBandRows) bands.push_back({row, std::min(to, row + kBandRows)});
    }
    return bands;
  }

  void find(Span rows) const {
    Work work(static_cast<std::size_t>(grid_.columns));
    panels_.begin(work.band, rows.from, rows.to);
    for (int row = rows.from; row < rows.to; ++row) find_row(row, work);
  }

  void find_row(int row, Work& work) const {
    panels_.row(work.band, row);
    const double y = grid_.ys[static_cast<std::size_t>(row)] - end_.y;
    const double rise = grid_.z_m - end_.z;
    const RowDistances distances{x_squared_, static_cast<float>(y * y + rise * rise)};
    add_constants(row, work);
    run_along(work.steps, work.sums);
    if (spread_ != nullptr) find_spread(row, work);
    if (map_.kinds_.size() > 1) {
      inverse_distances(distances, work.inverse);
      for (std::size_t kind = 1; kind < map_.kinds_.size(); ++kind) {
        add_kind(map_.kinds_[kind], row, y, rise, work);
      }
    }
    const auto columns = static_cast<std::size_t>(grid_.columns);
    add_distance(distances, at_1m_db_, octave_db_, work.sums,
                 loss_db_.subspan(static_cast<std::size_t>(row) * columns, columns));
  }

  static void step(std::vector<std::int64_t>& steps, Span span, std::int64_t by) {
    steps[static_cast<std::size_t>(span.from)] += by;
    steps[static_cast<std::size_t>(span.to)] -= by;
  }

  /// Every projection of the row by what it adds to the spread.
  void find_spread(int row, Work& work) const {
    const PanelProjection::Band& band = work.band;
    for (std::size_t k = 0; k < band.panel.size(); ++k) {
      step(work.spreads, {band.from[k], band.to[k]}, map_.panel_spreads_[band.panel[k]]);
    }
    for (const auto& [panel, span] : band.more) step(work.spreads, span, map_.panel_spreads_[panel]);
    const auto add = [&](const auto& projection, std::int64_t by) {
      if (row < projection.rows().from || row >= projection.rows().to) return;
      work.spans.clear();
      projection.spans(row, work.spans);
      for (const Span span : work.spans) step(work.spreads, span, by);
    };
    for (std::size_t plate = 0; plate < plates_.size(); ++plate)
      add(plates_[plate], map_.plate_spreads_[plate]);
    for (std::size_t obstacle = 0; obstacle < obstacles_.size(); ++obstacle)
      add(obstacles_[obstacle], map_.obstacle_spreads_[obstacle]);
    const auto columns = static_cast<std::size_t>(grid_.columns);
    const std::size_t first = static_cast<std::size_t>(row) * columns;
    std::int64_t sum = 0;
    for (std::size_t column = 0; column < columns; ++column) {
      sum += work.spreads[column];
      work.spreads[column] = 0;
      const std::int64_t crossings = sum % kMostCrossings;
      const double variance = static_cast<double>(sum / kMostCrossings) / kSpreadStepsPerSquareDb;
      spread_->sigma_db[first + column] = static_cast<float>(std::sqrt(model_variance_ + variance));
      spread_->line_of_sight[first + column] = crossings == 0 ? 1 : 0;
    }
    work.spreads[columns] = 0;
  }

  void add_constants(int row, Work& work) const {
    const DirectPathMap::Kind& constants = map_.kinds_.front();
    const PanelProjection::Band& band = work.band;
    for (std::size_t k = 0; k < band.panel.size() && band.panel[k] < constants.last; ++k) {
      step(work.steps, {band.from[k], band.to[k]}, map_.panel_steps_[band.panel[k]]);
    }
    for (const auto& [panel, span] : band.more) {
      if (panel < constants.last) step(work.steps, span, map_.panel_steps_[panel]);
    }
    work.spans.clear();
    const auto add = [&](const auto& projection, std::int64_t by) {
      if (row < projection.rows().from || row >= projection.rows().to) return;
      work.spans.clear();
      projection.spans(row, work.spans);
      for (const Span span : work.spans) step(work.steps, span, by);
    };
    for (const std::uint32_t plate : constants.plates) add(plates_[plate], map_.plate_steps_[plate]);
    for (std::size_t obstacle = 0; obstacle < obstacles_.size(); ++obstacle)
      add(obstacles_[obstacle], map_.obstacle_steps_[obstacle]);
  }

  /// Gathers the spans of one kind, then adds its loss over them: span by span where they are few, else over
  /// all between, times the count.
  void add_kind(const DirectPathMap::Kind& kind, int row, double y, double rise, Work& work) const {
    PanelProjection::Band& band = work.band;
    work.spans.clear();
    const auto first = std::ranges::lower_bound(band.panel, kind.first) - band.panel.begin();
    for (auto k = static_cast<std::size_t>(first); k < band.panel.size() && band.panel[k] < kind.last; ++k) {
      if (band.from[k] < band.to[k]) work.spans.push_back({band.from[k], band.to[k]});
    }
    for (const auto& [panel, span] : band.more) {
      if (panel >= kind.first && panel < kind.last) work.spans.push_back(span);
    }
    for (const std::uint32_t plate : kind.plates) {
      const Span rows = plates_[plate].rows();
      if (row >= rows.from && row < rows.to) plates_[plate].spans(row, work.spans);
    }
    if (work.spans.empty()) return;
    const bool level = !kind.plates.empty();
    add_spans({&*kind.table, static_cast<float>(kind.normal.x),
               static_cast<float>(level ? rise : kind.normal.y * y), x_, work.inverse},
              work);
  }

  static void add_spans(const AngleRow& row, Work& work) {
    int from = work.spans.front().from;
    int to = work.spans.front().to;
    int cells = 0;
    for (const Span span : work.spans) {
      from = std::min(from, span.from);
      to = std::max(to, span.to);
      cells += span.to - span.from;
    }
    const auto part = [&](Span span, auto add) {
      const auto start = static_cast<std::size_t>(span.from);
      const auto size = static_cast<std::size_t>(span.to - span.from);
      AngleRow cut = row;
      cut.x = row.x.subspan(start, size);
      cut.inverse = row.inverse.subspan(start, size);
      add(cut, start, size);
    };
    const std::span<double> sums(work.sums);
    if (cells <= to - from) {
      for (const Span span : work.spans) {
        part(span, [&](const AngleRow& cut, std::size_t start, std::size_t size) {
          add_angle_losses(cut, sums.subspan(start, size));
        });
      }
      return;
    }
    for (const Span span : work.spans) {
      ++work.changes[static_cast<std::size_t>(span.from)];
      --work.changes[static_cast<std::size_t>(span.to)];
    }
    run_along(work.changes, from, to, work.counts);
    part({from, to}, [&](const AngleRow& cut, std::size_t start, std::size_t size) {
      add_angle_losses(cut, std::span<const float>(work.counts).subspan(start, size),
                       sums.subspan(start, size));
    });
  }

  const DirectPathMap& map_;
  Point3 end_;
  ProjectionGrid grid_;
  PanelProjection panels_;
  std::vector<PlateProjection> plates_;
  std::vector<PrismProjection> obstacles_;
  std::vector<float> x_;
  std::vector<float> x_squared_;
  float at_1m_db_ = 0;
  float octave_db_ = 0;
  double model_variance_ = 0;
  std::span<float> loss_db_;
  const DirectPathSpread* spread_;
};

void DirectPathMap::find(Point3 end, const LevelGrid& grid, int threads, std::span<float> loss_db) const {
  find(end, grid, threads, loss_db, nullptr);
}

void DirectPathMap::find(Point3 end, const LevelGrid& grid, int threads, std::span<float> loss_db,
                         const DirectPathSpread& spread) const {
  if (spread.sigma_db.size() != grid.size() || spread.line_of_sight.size() != grid.size())
    throw DomainError("the spread has another size than its grid");
  find(end, grid, threads, loss_db, &spread);
}

void DirectPathMap::find(Point3 end, const LevelGrid& grid, int threads, std::span<float> loss_db,
                         const DirectPathSpread* spread) const {
  if (loss_db.size() != grid.size()) throw DomainError("the map has another size than its grid");
  if (grid.size() == 0) return;
  const Point2 plan = snapped(end.plan());
  const Point3 at{plan.x, plan.y, end.z};
  if (uses_projection(at, grid.z_m) && (spread == nullptr || itemises_)) {
    DirectPathCast(*this, at, grid, loss_db, spread).find(threads);
    return;
  }
  const LinkEndpoint endpoint(*scene_, at);
  parallel_for(static_cast<std::size_t>(grid.rows), threads, [&](std::size_t row) {
    const auto columns = static_cast<std::size_t>(grid.columns);
    for (std::size_t cell = row * columns; cell < (row + 1) * columns; ++cell) {
      const LossBreakdown loss = path_loss(endpoint, grid.centre(cell));
      loss_db[cell] = static_cast<float>(loss.path_loss_db);
      if (spread == nullptr) continue;
      spread->sigma_db[cell] = static_cast<float>(loss.sigma_db);
      spread->line_of_sight[cell] = loss.line_of_sight ? 1 : 0;
    }
  });
}

}  // namespace linkmargin
