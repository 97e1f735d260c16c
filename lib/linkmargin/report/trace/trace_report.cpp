#include "linkmargin/report/trace/trace_report.hpp"

#include "linkmargin/exchange/tracing/wall_joints.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

using exchange::DropReason;
using exchange::LayerRole;
using exchange::TracedPlan;
using exchange::TracedStorey;

/// So many rows tell of what was left out; the rest is counted.
constexpr std::size_t kMostRows = 30;

/// So many lines of the file are listed.
constexpr std::size_t kMostLines = 10;

double area_m2(const TracedStorey& storey) {
  double area = 0;
  for (const Room& room : storey.rooms) area += std::abs(signed_area(room.corners));
  return area;
}

class TraceReport {
 public:
  TraceReport(const Language& language, const TracedPlan& plan) : wording_(language), plan_(plan) {}

  Document write(const std::string& source) {
    document_.blocks.emplace_back(Heading{wording_.say("trace.title", {{"file", wording_.name(source)}})});
    storeys();
    document_.blocks.emplace_back(Heading{wording_.say("trace.check")});
    document_.blocks.emplace_back(bullet_list(to_check()));
    left_out();
    return std::move(document_);
  }

 private:
  double openings(const TracedStorey& storey, bool windows) const {
    return static_cast<double>(std::ranges::count_if(
        storey.openings,
        [&](const exchange::TracedOpening& one) { return (one.kind == "window") == windows; }));
  }

  void storeys() {
    Table table;
    table.columns = {{.title = wording_.say("trace.column.storey")},
                     number_column(wording_.say("trace.column.rooms"), "", 0),
                     number_column(wording_.say("trace.column.area"), "m2", 1),
                     number_column(wording_.say("trace.column.doors"), "", 0),
                     number_column(wording_.say("trace.column.windows"), "", 0),
                     number_column(wording_.say("trace.column.walls"), "", 0)};
    for (const TracedStorey& storey : plan_.storeys) {
      table.rows.push_back({{{wording_.name(storey.name)},
                             {static_cast<double>(storey.rooms.size())},
                             {area_m2(storey)},
                             {openings(storey, false)},
                             {openings(storey, true)},
                             {static_cast<double>(storey.walls.size())}}});
    }
    document_.blocks.emplace_back(std::move(table));
  }

  std::size_t gaps() const {
    std::size_t count = 0;
    for (const TracedStorey& storey : plan_.storeys)
      count += static_cast<std::size_t>(
          std::ranges::count(storey.openings, false, &exchange::TracedOpening::drawn));
    return count;
  }

  std::vector<std::string> to_check() const {
    std::vector<std::string> texts{
        wording_.say("trace.assumed"),
        wording_.say("trace.unit", {{"metres", wording_.language().length(plan_.unit_m)}})};
    texts.push_back(wording_.say(plan_.double_walls > 0 ? "trace.double_lines" : "trace.single_lines"));
    texts.push_back(wording_.say("trace.joined", {{"far", wording_.length(exchange::kJoinM)}}));
    layers(texts);
    const auto count = [&](const char* key, std::size_t number) {
      if (number > 0) texts.push_back(wording_.counted(key, number));
    };
    count("trace.gaps", gaps());
    count("trace.openings_left_out", plan_.openings_left_out);
    count("trace.small_faces", plan_.small_faces);
    for (std::size_t i = 0; i < plan_.several_names.size() && i < kNamesListed; ++i)
      texts.push_back(
          wording_.say("trace.several_names", {{"names", wording_.name(plan_.several_names[i])}}));
    if (plan_.shift_m != Point2{}) {
      texts.push_back(wording_.say("trace.shifted", {{"x", wording_.number(plan_.shift_m.x, 2)},
                                                     {"y", wording_.number(plan_.shift_m.y, 2)}}));
    }
    if (!plan_.unused_patterns.empty())
      texts.push_back(
          wording_.say("trace.unused_patterns", {{"names", wording_.names(plan_.unused_patterns)}}));
    if (!plan_.undecoded_lines.empty()) texts.push_back(undecoded());
    return texts;
  }

  void layers(std::vector<std::string>& texts) const {
    if (plan_.one_layer) {
      texts.push_back(
          wording_.say("trace.one_layer", {{"layer", wording_.name(plan_.layers.front().first)}}));
      return;
    }
    constexpr std::pair<LayerRole, const char*> kKeys[] = {{LayerRole::walls, "trace.layers.walls"},
                                                           {LayerRole::doors, "trace.layers.doors"},
                                                           {LayerRole::windows, "trace.layers.windows"},
                                                           {LayerRole::rooms, "trace.layers.rooms"},
                                                           {LayerRole::names, "trace.layers.names"}};
    for (const auto& [role, key] : kKeys) {
      std::vector<std::string> names;
      for (const auto& [layer, its_role] : plan_.layers) {
        if (its_role == role) names.push_back(layer);
      }
      if (!names.empty()) texts.push_back(wording_.say(key, {{"names", wording_.names(names)}}));
    }
  }

  std::string undecoded() const {
    std::vector<std::string> lines;
    for (const int line : plan_.undecoded_lines) lines.push_back(std::to_string(line));
    return wording_.say("trace.undecoded", {{"lines", wording_.listed(lines, kMostLines)}});
  }

  std::string reason(const exchange::Dropped& what) const {
    switch (what.reason) {
      case DropReason::hidden_layer:
        return wording_.say("trace.reason.hidden_layer");
      case DropReason::paper_space:
        return wording_.say("trace.reason.paper_space");
      case DropReason::missing_block:
        return wording_.say("trace.reason.missing_block");
      case DropReason::no_role:
        return wording_.say("trace.reason.no_role");
      case DropReason::no_wall:
        return wording_.say("trace.reason.no_wall");
      case DropReason::kind:
        break;
    }
    return wording_.say("trace.reason.kind");
  }

  void left_out() {
    if (plan_.dropped.empty()) return;
    document_.blocks.emplace_back(Heading{wording_.say("trace.left_out")});
    Table table;
    table.columns = {{.title = wording_.say("trace.column.kind")},
                     {.title = wording_.say("trace.column.layer"), .shrinks = true},
                     number_column(wording_.say("trace.column.count"), "", 0),
                     {.title = wording_.say("trace.column.reason")}};
    std::size_t rest = 0;
    for (const auto& [what, count] : plan_.dropped) {
      if (table.rows.size() >= kMostRows) {
        rest += count;
        continue;
      }
      table.rows.push_back({{{what.kind.empty() ? wording_.say("trace.line") : wording_.name(what.kind)},
                             {wording_.name(what.layer)},
                             {static_cast<double>(count)},
                             {reason(what)}}});
    }
    document_.blocks.emplace_back(std::move(table));
    if (rest > 0) document_.blocks.emplace_back(Paragraph{wording_.counted("trace.more", rest)});
  }

  const Wording wording_;
  const TracedPlan& plan_;
  Document document_;
};

}  // namespace

Document trace_document(const Language& language, const TracedPlan& plan, const std::string& source) {
  return TraceReport(language, plan).write(source);
}

}  // namespace linkmargin
