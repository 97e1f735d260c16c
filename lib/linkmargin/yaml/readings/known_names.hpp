#pragma once

#include "linkmargin/site/site.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <unordered_set>
#include <vector>

namespace linkmargin::yaml {

/// The names that a column may hold. A name is found as it is written, behind the apostrophe that write_csv()
/// puts before some, and else by its look (look_of(): in any case, with other blanks), if no other has that.
class KnownNames {
 public:
  template <typename Items>
  void add(const Items& items) {
    for (const auto& item : items) add_name(item.name);
  }

  /// @return the name as the site has it
  std::optional<std::string> find(const std::string& written) const;

  std::vector<std::string> sorted() const;

 private:
  void add_name(const std::string& name);

  std::unordered_set<std::string> names_;
  std::unordered_map<std::string, std::string> by_look_;  ///< empty where names share a look
};

/// What an unknown name is otherwise on the site: "it is a hub"; nothing where it is none.
/// @param column  of the readings file
std::string other_noun_hint(const Site& site, std::string_view column, const std::string& name);

}  // namespace linkmargin::yaml
