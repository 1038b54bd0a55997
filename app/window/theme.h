// SPDX-License-Identifier: MIT
#pragma once

#include <QPalette>
#include <QString>

class QApplication;

namespace touchmark::window {

enum class Appearance { system, light, dark };
[[nodiscard]] QString key_of(Appearance appearance);
[[nodiscard]] Appearance appearance_from(const QString& key); ///< system when unknown

/// Neutral greys and one accent, which means "selected" and nothing else. Text on any of the grounds holds 4.5:1,
/// borders of fields 3:1.
struct Colours {
    QColor ground;      ///< behind everything
    QColor sheet;       ///< cards, fields
    QColor inset;       ///< within a card: thumbnails, hovered buttons
    QColor text, quiet; ///< quiet: what is looked up rather than read
    QColor hairline;    ///< parts areas; carries no meaning
    QColor border;      ///< of fields and buttons
    QColor body;        ///< silhouettes
    QColor accent, on_accent;
};
[[nodiscard]] const Colours& colours(bool dark);
[[nodiscard]] QPalette palette_of(const Colours& colours);
[[nodiscard]] QString stylesheet_of(const Colours& colours);

/// What the desktop asks for, judged by its palette and settings before apply() was called for the first time.
[[nodiscard]] bool system_is_dark();
[[nodiscard]] bool is_dark(Appearance appearance);
/// Style, palette, stylesheet and typeface of the whole program.
void apply(QApplication& application, Appearance appearance);

} // namespace touchmark::window
