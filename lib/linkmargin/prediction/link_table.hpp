#pragma once

#include "linkmargin/prediction/link_table_result.hpp"

namespace linkmargin {

/// @param site sound: validate(site) is empty
LinkTable link_table(const Site& site, const LinkTableOptions& options = {});

/// The same in a scene that is made already. @param scene  of the site, with the doors of the options
LinkTable link_table(const Site& site, const LinkTableOptions& options, const Scene& scene);

/// The same, with what was traced for sites before it. @param options  of one thread
/// @throws DomainError when it is of several
LinkTable link_table(const Site& site, const LinkTableOptions& options, SceneCacheSet& scenes);

}  // namespace linkmargin
