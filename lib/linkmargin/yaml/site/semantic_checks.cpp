#include "linkmargin/yaml/site/semantic_checks.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

namespace linkmargin::yaml {
namespace {

/// The tokens of a JSON Pointer, still escaped.
std::vector<std::string> tokens_of(std::string_view path) {
  std::vector<std::string> tokens;
  while (!path.empty()) {
    path.remove_prefix(1);
    const std::size_t end = std::min(path.find('/'), path.size());
    tokens.emplace_back(path.substr(0, end));
    path.remove_prefix(end);
  }
  return tokens;
}

/// The paths in doubt, and the names of what they belong to.
class SuppressedPaths {
 public:
  explicit SuppressedPaths(const std::vector<std::string>& paths) : paths_(paths.begin(), paths.end()) {
    for (const std::string& path : paths_) note_name(tokens_of(path));
  }

  /// Whether this very path is in doubt.
  bool at(const std::string& path) const { return paths_.count(path) > 0; }

  /// Whether the path, or something above it, is in doubt.
  bool covers(std::string path) const {
    for (; !path.empty(); path.erase(path.rfind('/'))) {
      if (at(path)) return true;
    }
    return at(path);
  }

  /// Whether the path, or something above or below it, is in doubt.
  bool touches(const std::string& path) const {
    const auto below = paths_.lower_bound(path + "/");
    return covers(path) || (below != paths_.end() && below->compare(0, path.size() + 1, path + "/") == 0);
  }

  /// Whether a fault is about something in doubt, by its name.
  bool named_in(const Diagnostic& fault) const {
    return std::ranges::any_of(fault.names,
                               [&](const std::string& name) { return names_.contains(pointer_token(name)); });
  }

 private:
  void note_name(const std::vector<std::string>& tokens) {
    if (tokens.size() > 1 && tokens[0] == "profiles" && !tokens[1].empty()) names_.insert(tokens[1]);
    if (tokens.size() < 3 || tokens[0] != "storeys") return;
    if (tokens[2] == "level_m" || tokens[2] == "height_m" || tokens[2] == "floor") names_.insert(tokens[1]);
    const bool item = tokens[2] == "rooms" || tokens[2] == "walls" || tokens[2] == "openings";
    if (item && tokens.size() > 3 && !tokens[3].empty()) names_.insert(tokens[3]);
  }

  std::set<std::string> paths_;
  std::set<std::string> names_;
};

/// The storeys of a site's radios and areas: "/hubs/NAME" to "/storeys/STOREY", both escaped.
class StoreyPaths {
 public:
  explicit StoreyPaths(const Site& site) {
    const auto note = [&](const char* section, const auto& items, const auto& storey_of) {
      for (const auto& item : items) {
        paths_.emplace(section + pointer_token(item.name),
                       "/storeys/" + pointer_token(site.storeys[storey_of(item)].name));
      }
    };
    const auto placed = [](const auto& radio) { return radio.place.storey; };
    note("/hubs/", site.hubs, placed);
    note("/repeaters/", site.repeaters, placed);
    note("/devices/", site.devices, placed);
    note("/areas/", site.areas, [](const Area& area) { return area.storey; });
  }

  std::string of(const std::string& item) const {
    const auto found = paths_.find(item);
    return found == paths_.end() ? "/storeys" : found->second;
  }

 private:
  std::unordered_map<std::string, std::string> paths_;
};

/// One finding, and what it depends on.
class Finding {
 public:
  Finding(const Diagnostic& fault, const Site& site, const StoreyPaths& storeys)
      : fault_(fault), site_(site), storeys_(storeys), tokens_(tokens_of(fault.path)) {}

  bool in_doubt(const SuppressedPaths& doubts) const {
    if (is_whole_radio()) return doubts.at(fault_.path);
    if (doubts.touches(fault_.path)) return true;
    if (is_unknown_name()) return name_in_doubt(doubts);
    const bool material = tokens_.back() == "material" || tokens_.back() == "leaf";
    if (material)
      return doubts.touches(sibling(tokens_.back() == "leaf" ? "leaf_thickness_m" : "thickness_m"));
    if (tokens_.back() == "profile") return doubts.named_in(fault_);
    if (tokens_.back() == "capacity" && doubts.touches("/profiles")) return true;  // the classes are there
    return doubts.touches(item()) || storey_in_doubt(doubts) || doubts.named_in(fault_);
  }

 private:
  bool under(std::string_view section) const { return tokens_.front() == section; }
  bool is_radio() const { return under("hubs") || under("repeaters") || under("devices") || under("areas"); }

  /// Names that two radios share hang on nothing else.
  bool is_whole_radio() const { return tokens_.size() == 2 && is_radio(); }
  bool is_unknown_name() const { return fault_.code == DiagnosticCode::unknown_name; }

  std::string sibling(const std::string& key) const {
    return fault_.path.substr(0, fault_.path.rfind('/') + 1) + key;
  }

  std::string prefix(std::size_t count) const {
    std::string path;
    for (std::size_t i = 0; i < std::min(count, tokens_.size()); ++i) path += "/" + tokens_[i];
    return path;
  }

  /// "/devices/x", "/storeys/ground/openings/x", or the path itself.
  std::string item() const {
    if (is_radio()) return prefix(2);
    return under("storeys") && tokens_.size() > 4 ? prefix(4) : fault_.path;
  }

  std::string storey_path() const { return under("storeys") ? prefix(2) : storeys_.of(prefix(2)); }

  /// An unknown name follows from a doubt when the section that would hold it cannot be read.
  bool name_in_doubt(const SuppressedPaths& doubts) const {
    struct Home {
      std::string_view kind;
      std::string section;
    };
    const std::string storey = is_radio() || under("storeys") ? storey_path() : std::string();
    const std::array<Home, 5> homes{Home{"material", "/materials"}, Home{"profile", "/profiles"},
                                    Home{"hub", "/hubs"}, Home{"room", storey + "/rooms"},
                                    Home{"wall", storey + "/walls"}};
    for (const Home& home : homes) {
      const bool named = fault_.message.compare(8, home.kind.size() + 1, std::string(home.kind) + " ") == 0;
      if (named && doubts.covers(home.section)) return true;
    }
    const bool of_wall =
        under("storeys") && tokens_.size() > 4 && (tokens_[4] == "between" || tokens_[4] == "wall");
    return of_wall && (doubts.touches(prefix(4) + "/between") || doubts.touches(prefix(4) + "/wall"));
  }

  /// Whether the heights of its storey, or the rooms that it hangs on, are in doubt.
  bool storey_in_doubt(const SuppressedPaths& doubts) const {
    if (!is_radio() && !under("storeys")) return false;
    const std::string storey = storey_path();
    if (is_radio()) {
      return doubts.touches(storey + "/rooms") || doubts.touches(storey + "/level_m") ||
             doubts.touches(storey + "/height_m") || doubts.covers("/storeys");
    }
    if (tokens_.size() > 2 && tokens_[2] == "floor_openings") return doubts.touches(storey + "/rooms");
    const bool height = tokens_.back() == "height_m" && doubts.touches(storey + "/height_m");
    return height || wall_in_doubt(storey, doubts);
  }

  /// Whether the rooms or the traced wall of an opening are in doubt.
  bool wall_in_doubt(const std::string& storey_path, const SuppressedPaths& doubts) const {
    if (tokens_.size() < 4 || tokens_[2] != "openings") return false;
    for (const Storey& storey : site_.storeys) {
      if (pointer_token(storey.name) != tokens_[1]) continue;
      for (const Opening& opening : storey.openings) {
        if (pointer_token(opening.name) != tokens_[3]) continue;
        return doubts.touches(storey_path + "/rooms/" + pointer_token(opening.first)) ||
               doubts.touches(storey_path + "/rooms/" + pointer_token(opening.second)) ||
               doubts.touches(storey_path + "/walls/" + pointer_token(opening.wall));
      }
    }
    return false;
  }

  const Diagnostic& fault_;
  const Site& site_;
  const StoreyPaths& storeys_;
  std::vector<std::string> tokens_;
};

}  // namespace

namespace {

/// Faults of rooms, and which of the others only follow from them: of walls, openings and radios of those
/// rooms, and of the rooms that stand over them.
class Consequences {
 public:
  Consequences(const Node& root, const Site& site) : root_(root), site_(site) {}

  /// The fault that this one follows from, by its position among those kept; notes those that others follow
  /// from.
  std::optional<std::size_t> cause(const Diagnostic& fault, std::size_t position) {
    const std::vector<std::string> tokens = tokens_of(fault.path);
    const auto storey = storey_of(tokens);
    if (!storey) return {};
    std::optional<std::size_t> cause;
    for (const std::string& name : fault.names) {
      const auto found = rooms_.find({*storey, name});
      if (found != rooms_.end() && !cause) cause = found->second;
    }
    if (fault.code == DiagnosticCode::overlaps && tokens.size() == 4 && tokens[2] == "rooms") {
      for (const std::string& room : fault.names) note(*storey, room, cause.value_or(position));
    }
    return cause;
  }

 private:
  /// Of a fault of a storey; the rooms of radios are not looked at, whose places are typed for themselves.
  std::optional<std::size_t> storey_of(const std::vector<std::string>& tokens) const {
    if (tokens.size() < 3 || tokens[0] != "storeys") return {};
    for (std::size_t i = 0; i < site_.storeys.size(); ++i) {
      if (pointer_token(site_.storeys[i].name) == tokens[1]) return i;
    }
    return {};
  }

  void note(std::size_t storey, const std::string& room, std::size_t position) {
    if (!rooms_.emplace(std::pair{storey, room}, position).second || storey + 1 >= site_.storeys.size())
      return;
    for (const Room& above : site_.storeys[storey + 1].rooms) {
      if (stands_over(storey + 1, above.name, room)) note(storey + 1, above.name, position);
    }
  }

  bool stands_over(std::size_t storey, const std::string& above, const std::string& room) const {
    const Node* list = find(root_, "storeys");
    const Node* rooms =
        list == nullptr || storey >= list->items.size() ? nullptr : find(list->items[storey], "rooms");
    const Node* typed = rooms == nullptr ? nullptr : find(*rooms, above);
    const Node* over = typed == nullptr ? nullptr : find(*typed, "over");
    return over != nullptr && (over->text == room || std::ranges::any_of(over->items, [&](const Node& one) {
                                 return one.text == room;
                               }));
  }

  const Node& root_;
  const Site& site_;
  std::map<std::pair<std::size_t, std::string>, std::size_t> rooms_;
};

/// Where a fault of a wall or slab was typed, when that is elsewhere: what holds for all storeys at the top,
/// a room's roof at its `ceiling`.
std::string typed_path(const Node& root, const std::string& path) {
  const std::vector<std::string> names = pointer_names(path).value_or(std::vector<std::string>());
  if (names.size() < 3 || names[0] != "storeys") return path;
  const Node* list = find(root, "storeys");
  const Node* storey = list == nullptr ? nullptr : child(*list, names[1], "storeys");
  if (storey == nullptr) return path;
  const auto rest_from = [&](std::size_t position) {
    std::string rest;
    for (std::size_t i = position; i < names.size(); ++i) rest += "/" + pointer_token(names[i]);
    return rest;
  };
  const bool wall = names[2] == "outer_wall" || names[2] == "inner_wall";
  if (wall && find(*storey, names[2]) == nullptr && find(root, names[2]) != nullptr) return rest_from(2);
  if (names.size() < 5 || names[2] != "rooms" || names[4] != "roof") return path;
  const Node* rooms = find(*storey, "rooms");
  const Node* room = rooms == nullptr ? nullptr : find(*rooms, names[3]);
  if (room == nullptr || find(*room, "roof") != nullptr || find(*room, "ceiling") == nullptr) return path;
  return path.substr(0, path.size() - rest_from(4).size()) + "/ceiling" + rest_from(5);
}

/// Whether a fault is of a room's floor that the room does not say.
bool is_floor_untyped(Locator& locator, const std::string& path) {
  const std::size_t floor = path.rfind("/floor");
  return path.starts_with("/storeys/") && path.find("/rooms/") != std::string::npos &&
         floor != std::string::npos && locator.locate(path) == locator.locate(path.substr(0, floor));
}

struct Kept {
  Diagnostic fault;
  std::size_t followers = 0;
};

std::string followers_text(std::size_t count) {
  return std::to_string(count) + (count == 1 ? " more fault" : " more faults") +
         " about these rooms may follow from it";
}

}  // namespace

void add_findings(const Node& root, const Site& site, Faults& faults) {
  if (faults.full()) return;
  Consequences consequences(root, site);
  std::vector<Kept> kept;
  const SuppressedPaths doubts(faults.doubtful());
  const StoreyPaths storeys(site);
  Locator locator(root);
  std::set<std::pair<std::string, std::string>> told;  // what holds for several storeys is told once
  std::set<std::string> of_ceilings;                   // and a ceiling, which is the floor of rooms above
  for (Diagnostic& fault : validate(site)) {
    std::string typed = typed_path(root, fault.path);
    if (typed != fault.path && !told.emplace(typed, fault.message).second) continue;
    if (typed.find("/ceiling") != std::string::npos) of_ceilings.insert(fault.message);
    if (is_floor_untyped(locator, typed) && of_ceilings.contains(fault.message)) continue;
    // Repeated names were told as they were read, with the line of the first.
    if (fault.code == DiagnosticCode::given_twice) continue;
    const bool anywhere = fault.path.empty();
    if (!anywhere && Finding(fault, site, storeys).in_doubt(doubts)) continue;
    if (const auto cause = consequences.cause(fault, kept.size())) {
      ++kept[*cause].followers;
    } else {
      fault.path = std::move(typed);
      kept.push_back({std::move(fault)});
    }
  }
  for (Kept& one : kept) {
    if (one.followers > 0)
      one.fault.hint += (one.fault.hint.empty() ? "" : "; ") + followers_text(one.followers);
    const Mark mark = locator.locate(one.fault.path);
    faults.add(mark, std::move(one.fault));
  }
}

}  // namespace linkmargin::yaml
