// SPDX-License-Identifier: MIT
#pragma once

#include <QDialog>
#include <vector>

class QAction;
class QLineEdit;
class QListWidget;

namespace touchmark::window {

/// "Find an action": everything that can be done, narrowed by typing any of its words, with its shortcut.
class Finder : public QDialog {
    Q_OBJECT

public:
    Finder(std::vector<QAction*> actions, QWidget* parent);
    /// Whether every typed word begins a word of the title, the help or the menu.
    [[nodiscard]] static bool matches(const QString& typed, const QString& words);

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;
    void paintEvent(QPaintEvent* event) override;

private:
    void narrow();
    void fit();
    void trigger();

    std::vector<QAction*> actions_;
    QLineEdit* typed_;
    QListWidget* list_;
    int tallest_ = 0; ///< that the list may be
};

} // namespace touchmark::window
