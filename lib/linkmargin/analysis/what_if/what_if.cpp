#include "linkmargin/analysis/what_if/what_if.hpp"

#include "linkmargin/base/in_order.hpp"

#include <algorithm>
#include <memory>
#include <utility>

namespace linkmargin {
namespace {

/// Runs that are made in one go: whole variants where they are short, else a piece of one.
constexpr std::uint64_t kBlockRuns = 256;
constexpr std::uint64_t kBlockVariants = 16;
constexpr std::uint64_t kLongVariant = 16'384;
constexpr std::uint64_t kPieceRuns = 1024;

std::uint64_t block_runs(const WhatIfRuns& runs) {
  const std::uint64_t each = runs.runs_each();
  if (each > kLongVariant) return kPieceRuns;
  return each * std::clamp<std::uint64_t>(kBlockRuns / each, 1, kBlockVariants);
}

std::string faults_text(const Diagnostics& faults) {
  std::string text;
  for (const Diagnostic& fault : faults) text += (text.empty() ? "" : "; ") + to_text(fault);
  return text;
}

/// What one thread keeps from run to run.
class Worker {
 public:
  Worker(const WhatIf& what_if, const WhatIfRuns& runs, const WhatIfOptions& options)
      : what_if_(&what_if), runs_(&runs), options_(&options) {}

  std::vector<WhatIfRow> rows(std::uint64_t first_run, std::uint64_t last_run) {
    std::vector<WhatIfRow> rows;
    rows.reserve(last_run - first_run + 1);
    for (std::uint64_t run = first_run; run <= last_run; ++run) {
      const std::uint64_t number = (run - 1) / runs_->runs_each();
      if (number != number_) take_up(number);
      rows.push_back(row(run, (run - 1) % runs_->runs_each()));
    }
    return rows;
  }

 private:
  WhatIfSetting setting(const Site& site, Doors doors) {
    const LinkTableOptions options{
        .doors = doors, .area_step_m = options_->area_step_m, .detail = TableDetail::chances};
    const auto seed = what_if_->draws ? std::optional(what_if_->draws->seed) : std::nullopt;
    return {site, link_table(site, options, scenes_), seed};
  }

  void take_up(std::uint64_t number) {
    number_ = number;
    const WhatIfVariant next = runs_->variant(number);
    if (!base_ || next.site != variant_.site)
      base_.emplace(setting(what_if_->sites[next.site].site, options_->doors));
    variant_ = next;
    const Site site = variant_site(*what_if_, *runs_, variant_);
    setting_.emplace(setting(site, variant_doors(*what_if_, variant_, options_->doors)));
    asked_.clear();
    for (const std::string& device : options_->devices) {
      const auto& links = setting_->table().links;
      const auto link = std::ranges::find(links, device, &Link::device);
      asked_.push_back(link == links.end() ? std::nullopt : std::optional(link - links.begin()));
    }
    weak_areas_ = static_cast<std::size_t>(std::ranges::count_if(setting_->table().areas, &AreaCover::weak));
  }

  WhatIfOutcome outcome(const WhatIfSetting& setting, std::uint64_t draw) {
    devices_.resize(setting.table().links.size());
    if (draw == 0) return setting.predicted(devices_);
    shifts_.resize(setting.hops());
    setting.draws().draw(draw, shifts_);
    return setting.outcome(shifts_, devices_);
  }

  WhatIfRow row(std::uint64_t run, std::uint64_t draw) {
    WhatIfRow row{.run = run, .variant = variant_, .draw = draw};
    row.weak_below_percent = setting_->table().reading.weak_below_percent;
    const double base_percent = outcome(*base_, draw).worst_reading_percent;
    const WhatIfOutcome found = outcome(*setting_, draw);
    if (found.worst) {
      const Link& link = setting_->table().links[*found.worst];
      row.worst_device = link.device;
      row.worst_reading_percent = found.worst_reading_percent;
      row.worst_pass_probability = link.pass_probability;
      row.worst_change_percent = found.worst_reading_percent - base_percent;
    }
    row.weak_count = found.weak_count;
    row.weak_areas = weak_areas_;
    for (const auto& link : asked_)
      row.devices.push_back(link ? std::optional(devices_[static_cast<std::size_t>(*link)]) : std::nullopt);
    return row;
  }

  const WhatIf* what_if_;
  const WhatIfRuns* runs_;
  const WhatIfOptions* options_;
  SceneCacheSet scenes_;
  std::optional<std::uint64_t> number_;  // of the variant
  WhatIfVariant variant_;
  std::optional<WhatIfSetting> base_;
  std::optional<WhatIfSetting> setting_;
  std::vector<std::optional<std::ptrdiff_t>> asked_;  // links
  std::size_t weak_areas_ = 0;
  std::vector<double> shifts_;
  std::vector<WhatIfDevice> devices_;
};

}  // namespace

Site variant_site(const WhatIf& what_if, const WhatIfRuns& runs, const WhatIfVariant& variant) {
  const WhatIfSite& of = what_if.sites.at(variant.site);
  const std::vector<Edit> edits = runs.edits(what_if, variant);
  if (edits.empty()) return of.site;
  auto site = edited_site(of.site, edits);
  if (site) return std::move(*site);
  std::string what = of.file;
  if (variant.of_case > 0) what += ", case '" + of.cases[variant.of_case - 1].name + "'";
  const std::vector<std::size_t> values = runs.values(variant.combination);
  for (std::size_t axis = 0; axis < values.size(); ++axis)
    what += ", " + what_if.sweep[axis].path + " " + what_if.sweep[axis].texts[values[axis]];
  throw DomainError(what + ": " + faults_text(site.error()));
}

std::vector<std::string> impossible_variants(const WhatIf& what_if, std::uint64_t most) {
  const WhatIfRuns runs(what_if);
  std::vector<std::string> faults;
  for (std::uint64_t variant = 0; variant < std::min(runs.variants(), most); ++variant) {
    try {
      (void)variant_site(what_if, runs, runs.variant(variant));
    } catch (const DomainError& fault) {
      faults.emplace_back(fault.what());
    }
  }
  return faults;
}

Doors variant_doors(const WhatIf& what_if, const WhatIfVariant& variant, Doors otherwise) {
  if (variant.of_case == 0) return otherwise;
  const auto open = what_if.sites.at(variant.site).cases.at(variant.of_case - 1).doors_open;
  if (!open) return otherwise;
  return *open ? Doors::open : Doors::armed;
}

void what_if(const WhatIf& what_if, const WhatIfOptions& options, const RenderRows& render,
             const TakeBlock& take) {
  const WhatIfRuns runs(what_if);
  const std::uint64_t last = std::min(options.last_run, runs.count());
  if (options.first_run < 1 || options.first_run > last)
    throw DomainError("there are no runs " + std::to_string(options.first_run) + " to " +
                      std::to_string(last));
  const std::uint64_t size = block_runs(runs);
  const std::uint64_t first_block = (options.first_run - 1) / size;
  const std::uint64_t blocks = (last - 1) / size - first_block + 1;
  std::vector<Worker> workers(static_cast<std::size_t>(std::max(options.threads, 1)),
                              Worker(what_if, runs, options));
  struct Made {
    std::vector<WhatIfRow> rows;
    std::string text;
  };
  const auto make = [&](std::size_t block, std::size_t worker) {
    const std::uint64_t start = (first_block + block) * size + 1;
    Made made{workers[worker].rows(std::max(start, options.first_run), std::min(start + size - 1, last)), {}};
    if (render) made.text = render(made.rows);
    return made;
  };
  in_order(static_cast<std::size_t>(blocks), options.threads, make, [&](std::size_t, Made made) {
    return take(WhatIfBlock{made.rows, std::move(made.text)});
  });
}

std::vector<std::string> what_if_devices(const WhatIf& what_if) {
  std::vector<std::string> names;
  const auto add = [&](const Site& site) {
    for (const Device& device : site.devices) {
      if (std::ranges::find(names, device.name) == names.end()) names.push_back(device.name);
    }
  };
  for (const WhatIfSite& of : what_if.sites) {
    add(of.site);
    for (const WhatIfCase& variant : of.cases) {
      if (const auto site = edited_site(of.site, variant.edits)) add(*site);
    }
  }
  return names;
}

}  // namespace linkmargin
