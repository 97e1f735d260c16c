#pragma once

#include "linkmargin/base/result.hpp"
#include "linkmargin/site/edit/what_if.hpp"

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin {

/// A site file that a what-if file names, or a pattern of many (*, ?, [...]).
struct SitePattern {
  std::string text;
  int line = 0;
  int column = 0;
  std::string path;  ///< JSON Pointer
};

/// What stands under `site` or `sites` of a what-if file.
/// @return at least one; or every fault that keeps from knowing them
Result<std::vector<SitePattern>> parse_what_if_sites(std::string_view text, const std::string& file_name);

/// A site file that was read.
struct NamedSite {
  std::string file;
  Site site;  ///< sound by validate()
};

/// Reads a what-if file (docs/site-file/changes.md): every case is tried on every site, and every swept
/// value on top of every case. The sites come out without `may_move`: a case may put a radio anywhere.
/// @param text   the bytes of the file: UTF-8, with or without a byte-order mark, any line ends
/// @param sites  those of parse_what_if_sites(), at least one
/// @return the runs; or every fault by line and column, the same fault of several sites once. Not tried is
/// how several swept values go together: what_if() throws where they do not.
Result<WhatIf> parse_what_if(std::string_view text, const std::string& file_name,
                             std::span<const NamedSite> sites);

}  // namespace linkmargin
