// SPDX-License-Identifier: MIT
#pragma once

#include "app/panels/look.h"
#include "app/session/session.h"

class QPushButton;
class QVBoxLayout;

namespace touchmark::panels {

class Gauge;
class SeverityMark;

/// One finding: how bad, the sentence, the scale, and the fixes as buttons that say what will change. Unfolds the
/// reason when selected.
class FindingCard : public Card {
    Q_OBJECT

public:
    explicit FindingCard(session::Session& session, QWidget* parent = nullptr);
    /// `index` into the evaluation's findings.
    void show_finding(std::size_t index, const rules::Finding& finding);
    void set_unfolded(bool unfolded);
    [[nodiscard]] const std::vector<QPushButton*>& fixes() const { return buttons_; }

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void show_fixes(const rules::Finding& finding);
    QPushButton* button(std::size_t at);

    session::Session& session_;
    std::size_t index_ = 0;
    SeverityMark* severity_;
    QLabel *message_, *why_;
    Gauge* gauge_;
    QVBoxLayout* fix_layout_;
    std::vector<QPushButton*> buttons_;
    std::vector<rules::Fix> edits_;
};

} // namespace touchmark::panels
