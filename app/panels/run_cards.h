// SPDX-License-Identifier: MIT
#pragma once

#include "app/panels/look.h"
#include "app/session/session.h"
#include "core/pipeline/compare.h"

class QPushButton;

namespace touchmark::panels {

class SeverityMark;

/// What one mark, or all of them, cost over the run.
class RunMarkCard : public Card {
    Q_OBJECT

public:
    explicit RunMarkCard(QWidget* parent = nullptr);
    void show_forecast(const QString& name, const run::Forecast& forecast, const run::Rates& rates);
    void show_trouble(const QString& name, const Error& error);
    /// Whether the mark can be compared, and what the button says.
    void set_comparable(bool comparable, const QString& title);

signals:
    void compare_asked();

private:
    QLabel *name_, *rejects_, *more_, *shares_;
    QPushButton* compare_;
};

/// One alternative in a line: how it is made, what comes out, its figures, and the button that makes it so.
class AlternativeCard : public Card {
    Q_OBJECT

public:
    explicit AlternativeCard(session::Session& session, QWidget* parent = nullptr);
    void show_alternative(const pipeline::Alternative& alternative, const run::Rates& rates);
    [[nodiscard]] QPushButton& use() const { return *use_; }

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    session::Session& session_;
    job::Edit edit_;
    QString title_;
    QLabel *name_, *verdict_, *finding_, *rejects_, *time_, *money_;
    SeverityMark* severity_;
    QPushButton* use_;
};

} // namespace touchmark::panels
