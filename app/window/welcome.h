// SPDX-License-Identifier: MIT
#pragma once

#include <QStringList>
#include <QWidget>

class QLabel;
class QVBoxLayout;

namespace touchmark::window {

/// What to do first.
class Welcome : public QWidget {
    Q_OBJECT

public:
    explicit Welcome(QWidget* parent = nullptr);
    void set_recent(const QStringList& files);

signals:
    void open_asked();
    void demo_asked();
    void file_asked(const QString& file);

private:
    QLabel* recent_title_;
    QVBoxLayout* recent_;
};

} // namespace touchmark::window
