#pragma once

#include "linkmargin/analysis/relocation/relocation_result.hpp"
#include "linkmargin/analysis/survey/reading_verdict.hpp"
#include "linkmargin/messages/language.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/report/document/document.hpp"

#include <string>

namespace linkmargin {

/// One link, cause by cause: why it is weak or fine, each loss, both budgets, the chance in words, what a
/// reading taken on site says, what would help first, the cautions.
/// @param table of all pairs, so that a better hub is named
/// @param link  one of the table's
/// @param read  null: no reading was taken
/// @param relocation  of the device alone: what to try; null: nothing needs to be done
Document explain_document(const Language& language, const Site& site, const LinkTable& table,
                          const Link& link, const ReadingAnswer* read = nullptr,
                          const Relocation* relocation = nullptr);

/// One row an item of the path loss.
Table explain_rows(const Language& language, const Link& link);

/// The link as check_json() gives it, plus `text`: the words of explain_document() without its tables, and
/// `reading`: null where none was taken.
std::string explain_json(const Language& language, const Site& site, const LinkTable& table, const Link& link,
                         const ReadingAnswer* read = nullptr, const Relocation* relocation = nullptr);

}  // namespace linkmargin
