// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/result.h"

#include <QFrame>
#include <QTimer>

class QLabel;
class QPushButton;

namespace touchmark::window {

/// What happened, calmly, under the header: one at a time, out of the way, never a box to click away before going on.
class Banner : public QFrame {
    Q_OBJECT

public:
    explicit Banner(QWidget* parent = nullptr);
    void show_error(const Error& error);
    void show_notice(const QString& message, const QString& hint);
    /// Goes by itself after a while.
    void show_done(const QString& message, const QString& detail);
    void dismiss();
    [[nodiscard]] QString message() const;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    enum class Kind { error, notice, done };
    void show_words(Kind kind, const QString& message, const QString& hint);

    Kind kind_ = Kind::notice;
    QLabel *message_, *hint_;
    QPushButton* close_;
    QTimer going_;
};

} // namespace touchmark::window
