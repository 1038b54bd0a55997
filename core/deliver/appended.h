// SPDX-License-Identifier: MIT
#pragma once

#include "core/deliver/changes.h"

namespace touchmark::deliver {

/// What the head of a file says of it.
struct FileHead {
    std::string name, author, organisation; ///< UTF-8
};

struct Appended {
    std::string text;
    std::vector<int> rewritten; ///< instances of the unmarked text that say something else now
    std::vector<int> dropped;   ///< those that nothing refers to any more
    int added = 0;              ///< instances
};

/// The text of a marked copy: that of the unmarked part, in which the bounds of the marked faces and the lists of
/// shells say what they hold now, and behind it the entities of the marks. Errors: "deliver.not_appendable" when the
/// geometry of a mark is of a kind that is left to OpenCASCADE.
[[nodiscard]] Result<Appended> appended(const Unmarked& unmarked, const Changes& changes, const FileHead& head);

} // namespace touchmark::deliver
