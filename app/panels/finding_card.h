// SPDX-License-Identifier: MIT
#pragma once

#include "app/panels/look.h"
#include "app/session/session.h"

#include <QPushButton>

class QVBoxLayout;

namespace touchmark::panels {

class Gauge;
class SeverityMark;

/// Says in full what it will change, on as many lines as that takes.
class FixButton : public QPushButton {
    Q_OBJECT

public:
    explicit FixButton(QWidget* parent = nullptr);
    void set_title(const QString& title);

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    void wrap();
    QString title_;
};

/// One finding: how bad, the sentence, the scale, and the fixes as buttons that say what will change. Unfolds the
/// reason when selected.
class FindingCard : public Card {
    Q_OBJECT

public:
    explicit FindingCard(session::Session& session, QWidget* parent = nullptr);
    /// `index` into the evaluation's findings.
    void show_finding(std::size_t index, const rules::Finding& finding);
    void set_unfolded(bool unfolded);
    [[nodiscard]] const std::vector<FixButton*>& fixes() const { return buttons_; }

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void show_fixes(const rules::Finding& finding);
    FixButton* button(std::size_t at);

    session::Session& session_;
    std::size_t index_ = 0;
    SeverityMark* severity_;
    QLabel *message_, *why_;
    Gauge* gauge_;
    QVBoxLayout* fix_layout_;
    std::vector<FixButton*> buttons_;
    std::vector<rules::Fix> edits_;
};

} // namespace touchmark::panels
