// SPDX-License-Identifier: MIT
#pragma once

#include <QAction>
#include <QMainWindow>
#include <map>
#include <span>
#include <string_view>

class QMenu;

namespace touchmark::window {

/// Everything that can be done, once: feeds the menus, the shortcuts and the list that is searched.
struct ActionRow {
    std::string_view id;
    std::string_view menu; ///< "File", "View/Appearance" …
    std::string_view title;
    std::string_view shortcut; ///< portable text, may be empty
    std::string_view help;     ///< what it does, one phrase
    std::string_view group;    ///< of mutually exclusive choices; "alone": on or off; empty: a plain action
};
/// In menu order; "-" as id is a line. Add new actions here.
[[nodiscard]] std::span<const ActionRow> action_rows();

class Actions {
public:
    /// Makes every action and puts it into the window's menu bar.
    explicit Actions(QMainWindow& window);
    [[nodiscard]] QAction& operator[](std::string_view id) const;
    [[nodiscard]] QMenu& menu(std::string_view path) const;
    /// In the order of the table, with further ones added to menus later (recent files, processes).
    [[nodiscard]] std::vector<QAction*> all() const;

private:
    std::map<std::string_view, QAction*> actions_;
    std::map<std::string, QMenu*, std::less<>> menus_;
};

} // namespace touchmark::window
