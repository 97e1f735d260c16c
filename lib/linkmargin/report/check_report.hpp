#pragma once

#include "linkmargin/messages/language.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/report/document/document.hpp"
#include "linkmargin/report/document/typed_site.hpp"

#include <string>

namespace linkmargin {

/// The answer of `check` for people: where and what, the verdict, then the devices, the worst first (by the
/// lower of the two readings, then margin, then name), areas, hubs, cautions. Readings are those of the
/// weaker direction.
Document check_document(const Language& language, const LinkTable& table,
                        const TypedSite& typed = {});

/// One row a link, in the order of the table; columns named as the keys of check_json().
/// @param with_serving adds a column that tells the serving hub, for a table of all pairs
Table check_rows(const LinkTable& table, bool with_serving = false);

/// The keys of docs/commands/check.md. The items of `losses` add up to `path_loss_db` within 1e-9.
std::string check_json(const Language& language, const LinkTable& table);

}  // namespace linkmargin
