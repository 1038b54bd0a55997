// SPDX-License-Identifier: MIT
#pragma once

#include "core/process/profiles.h"

#include <QString>
#include <vector>

namespace touchmark::panels {

struct GroupedProfile {
    const process::Profile* profile = nullptr;
    QString title; ///< what the group's title does not say already: "PETG"
};
struct ProfileGroup {
    QString title;
    std::vector<GroupedProfile> profiles;
    bool own = false;
};

/// As they are offered: by nozzle, "0.4 mm nozzle" with "Any material", "PETG" and so on; then other processes, then
/// the user's own. No group is empty.
[[nodiscard]] std::vector<ProfileGroup> grouped(const process::Profiles& profiles);

} // namespace touchmark::panels
