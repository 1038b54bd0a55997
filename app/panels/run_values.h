// SPDX-License-Identifier: MIT
#pragma once

#include <QString>

namespace touchmark::panels {

/// What a person reckons a run with; remembered between sittings.
struct RunFigures {
    qint64 units = 1000;
    double unit_cost = 0, machine_hour = 0; ///< 0: not said
    QString rates_file{};                   ///< empty: the planning figures
};

} // namespace touchmark::panels
