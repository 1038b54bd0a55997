// SPDX-License-Identifier: MIT
#pragma once

#include "app/session/session.h"

#include <QWidget>

class QLabel;

namespace touchmark::panels {

class CardColumn;
class FindingCard;

/// What will go wrong, the worst first, by mark; and when nothing will, what was looked at.
class FindingsList : public QWidget {
    Q_OBJECT

public:
    explicit FindingsList(session::Session& session, QWidget* parent = nullptr);
    ~FindingsList() override;

    struct Group {
        std::string mark;
        std::vector<std::size_t> findings; ///< indices, the most severe first
    };
    /// By mark, the group with the most severe finding first; otherwise in the order given.
    [[nodiscard]] static std::vector<Group> grouped(const std::vector<rules::Finding>& findings);

private:
    void on_changed(session::Changes changes);
    void rebuild();
    void show_selection();
    void show_summary();
    void show_nothing_found();
    FindingCard* card(std::size_t at);
    QLabel* heading(std::size_t at);

    session::Session& session_;
    QLabel *summary_, *nothing_;
    CardColumn* column_;
    std::vector<FindingCard*> cards_;
    std::vector<QLabel*> headings_;
    std::vector<std::size_t> shown_; ///< the finding of each visible card
};

} // namespace touchmark::panels
