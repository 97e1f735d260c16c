#pragma once

#include "linkmargin/analysis/what_if/what_if_runs.hpp"
#include "linkmargin/analysis/what_if/what_if_setting.hpp"
#include "linkmargin/base/progress.hpp"
#include "linkmargin/link/mechanism/scene.hpp"
#include "linkmargin/site/edit/what_if.hpp"

#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace linkmargin {

/// One run and what it came to.
struct WhatIfRow {
  std::uint64_t run = 0;  ///< from 1, as WhatIfRuns numbers them
  WhatIfVariant variant;
  std::uint64_t draw = 0;      ///< from 1; 0: the prediction
  std::string worst_device{};  ///< that reads lowest; empty: the site has none
  double worst_reading_percent = 0;
  double worst_pass_probability = 0;  ///< of that device, before anything is drawn
  std::size_t weak_count = 0;         ///< devices under the threshold
  std::size_t weak_areas = 0;         ///< as predicted: areas are not drawn
  /// Of the lowest reading against the site as it is, without case and swept values, in the same draw.
  double worst_change_percent = 0;
  double weak_below_percent = 0;  ///< of the variant
  /// If asked for, by WhatIfOptions::devices; nothing: the variant has none of that name.
  std::vector<std::optional<WhatIfDevice>> devices{};
};

struct WhatIfOptions {
  Doors doors = Doors::armed;                                          ///< of the cases that do not say
  std::vector<std::string> devices{};                                  ///< of which the rows tell
  std::uint64_t first_run = 1;                                         ///< of those to be made
  std::uint64_t last_run = std::numeric_limits<std::uint64_t>::max();  ///< or the last there is
  double area_step_m = 0.5;                                            ///< as in LinkTableOptions
  int threads = 1;  ///< >= 1; changes nothing in the result
};

/// Runs that follow each other, and what `render` made of them.
struct WhatIfBlock {
  std::span<const WhatIfRow> rows;
  std::string text;
};

/// Makes a text of rows: called on any thread. May be empty.
using RenderRows = std::function<std::string(std::span<const WhatIfRow>)>;
/// Takes the blocks in the order of their runs, one at a time; false: enough.
using TakeBlock = std::function<bool(WhatIfBlock)>;

/// Makes the runs. Each is what link_table() gives of edited_site() with the variant's edits, a draw on top:
/// nothing is approximated for speed. What two variants have in common is not done twice: a scene and the
/// paths traced in it are kept while the building stays, losses where hub and device stay (SceneCache).
/// Memory does not grow with the number of runs.
/// @param what_if  its cases and swept values each one that edited_site() takes
/// @throws DomainError as WhatIfRuns does, on runs outside 1..count(), and when a combination of case and
/// swept values is none that edited_site() takes: with its faults in the message
void what_if(const WhatIf& what_if, const WhatIfOptions& options, const RenderRows& render,
             const TakeBlock& take);

/// The site of a variant. @throws DomainError as above
Site variant_site(const WhatIf& what_if, const WhatIfRuns& runs, const WhatIfVariant& variant);

/// Why variants cannot be: of the first `most` variants, each with its case, its values and what is wrong.
/// @throws DomainError as WhatIfRuns does
std::vector<std::string> impossible_variants(const WhatIf& what_if, std::uint64_t most);

/// How doors stand in it.
Doors variant_doors(const WhatIf& what_if, const WhatIfVariant& variant, Doors otherwise);

/// The names of all devices of the sites and of the devices that cases add, each once, in their order.
std::vector<std::string> what_if_devices(const WhatIf& what_if);

}  // namespace linkmargin
