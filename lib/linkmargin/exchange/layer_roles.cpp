#include "linkmargin/exchange/layer_roles.hpp"

#include "linkmargin/base/letter_case.hpp"

namespace linkmargin::exchange {

bool fits_pattern(std::string_view pattern, std::string_view name) {
  std::size_t p = 0, n = 0;
  std::size_t star = std::string_view::npos, after_star = 0;  // where to go on when what follows * fails
  while (n < name.size()) {
    if (p < pattern.size() && pattern[p] == '*') {
      star = p++;
      after_star = n;
    } else if (p < pattern.size() && (pattern[p] == '?' || lower_case(pattern[p]) == lower_case(name[n]))) {
      ++p;
      ++n;
    } else if (star != std::string_view::npos) {
      p = star + 1;
      n = ++after_star;
    } else {
      return false;
    }
  }
  while (p < pattern.size() && pattern[p] == '*') ++p;
  return p == pattern.size();
}

std::optional<LayerRole> role_of(const LayerMap& map, std::string_view layer) {
  for (const LayerPattern& one : map.patterns) {
    if (fits_pattern(one.pattern, layer)) return one.role;
  }
  return {};
}

const LayerMap& common_layer_words() {
  // What stands in the plan for other trades comes first: it has no pattern here, and a layer of names of
  // rooms is one of names.
  static const LayerMap map{{{"*room*name*", LayerRole::names},    {"*raum*name*", LayerRole::names},
                             {"*text*", LayerRole::names},         {"*label*", LayerRole::names},
                             {"*name*", LayerRole::names},         {"*beschrift*", LayerRole::names},
                             {"*window*", LayerRole::windows},     {"*glaz*", LayerRole::windows},
                             {"*fenster*", LayerRole::windows},    {"*door*", LayerRole::doors},
                             {"*t\xC3\xBCr*", LayerRole::doors},   {"*T\xC3\x9CR*", LayerRole::doors},
                             {"*tuer*", LayerRole::doors},         {"*tor", LayerRole::doors},
                             {"*wall*", LayerRole::walls},         {"*wand*", LayerRole::walls},
                             {"*w\xC3\xA4nde*", LayerRole::walls}, {"*W\xC3\x84NDE*", LayerRole::walls},
                             {"*waende*", LayerRole::walls},       {"*mauer*", LayerRole::walls},
                             {"*room*", LayerRole::rooms},         {"*raum*", LayerRole::rooms},
                             {"*r\xC3\xA4ume*", LayerRole::rooms}, {"*raeume*", LayerRole::rooms},
                             {"*zimmer*", LayerRole::rooms}}};
  return map;
}

}  // namespace linkmargin::exchange
