// SPDX-License-Identifier: MIT
#pragma once

#include <QString>

namespace touchmark::session {

/// "1 layer", "28 layers".
[[nodiscard]] inline QString counted(qint64 count, const QString& one, const QString& many) {
    return QString::number(count) + u' ' + (count == 1 ? one : many);
}

} // namespace touchmark::session
