#pragma once

#include <string>

namespace linkmargin {

/// A site as it was typed on a command line, for the commands that an answer names to go on with.
struct TypedSite {
  std::string file = "SITE";
  std::string options{};  ///< that ask the same of the next command, a blank before each
  std::string tables{};   ///< of these what every command takes: `--materials`
};

}  // namespace linkmargin
