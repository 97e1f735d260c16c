#pragma once

#include <string>

namespace linkmargin::schema {

/// docs/site-file.md with its tables of keys made anew: what stands between `<!-- keys: NAME -->` and
/// `<!-- end of keys -->`.
/// @throws std::runtime_error for a name that no table has, a table that has no place, or a mark without its
/// end
std::string with_key_tables(const std::string& page);

}  // namespace linkmargin::schema
