// SPDX-License-Identifier: MIT
#pragma once

#include "core/process/profiles.h"

#include <functional>

class QAction;
class QMenu;

namespace touchmark::window {

/// Fills the menu: a menu a nozzle with its materials, one of other processes, the user's own, and `manage` last.
/// Actions hold the profile's id as their data.
void fill_process_menu(QMenu& menu, const process::Profiles& profiles, QAction& manage,
                       const std::function<void(const std::string& id)>& choose);
/// Checks that profile, and the menu that it is in.
void check_process(QMenu& menu, const std::string& id);

} // namespace touchmark::window
