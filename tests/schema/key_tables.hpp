#pragma once

#include <string>
#include <vector>

namespace linkmargin::schema {

/// The pages of the site file with their tables of keys made anew: what stands between `<!-- keys: NAME -->`
/// and `<!-- end of keys -->`.
/// @throws std::runtime_error for a name that no table has, a table that has no place, or a mark without its
/// end
std::vector<std::string> with_key_tables(const std::vector<std::string>& pages);

}  // namespace linkmargin::schema
