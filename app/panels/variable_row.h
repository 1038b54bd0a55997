// SPDX-License-Identifier: MIT
#pragma once

#include "app/session/session.h"

#include <QWidget>
#include <functional>
#include <vector>

class QComboBox;
class QGridLayout;
class QLabel;
class QLineEdit;
class QPushButton;

namespace touchmark::panels {

/// One variable of the job: its name and what it stands for on the first part; unfolds to its values.
class VariableRow : public QWidget {
    Q_OBJECT

public:
    /// `index` in the job's list.
    VariableRow(session::Session& session, std::size_t index, QWidget* parent = nullptr);
    /// Shows the job's values; what is being typed stays.
    void refresh();
    void set_unfolded(bool unfolded);
    [[nodiscard]] bool unfolded() const { return body_ != nullptr; }

signals:
    /// It should stand in the selected mark's text.
    void wanted(const QString& placeholder);

private:
    void unfold();
    void add_name(QGridLayout& grid);
    void add_values(QGridLayout& grid);
    void add_serial(QGridLayout& grid);
    void add_choices(QGridLayout& grid);
    void add_foot(QGridLayout& grid);
    /// A field that is edited as it is typed; `show` gives its text out of the job.
    QLineEdit* add_line(QGridLayout& grid, const QString& title, const QString& help,
                        std::function<QString(const content::Variable&)> show,
                        std::function<Result<content::Variable>(content::Variable, const QString&)> change);
    QComboBox* add_choice(QGridLayout& grid, const QString& title, const QString& help);
    void change(const QString& what, const Result<content::Variable>& to);
    void complain(const QString& message);
    [[nodiscard]] const content::Variable* variable() const;

    session::Session& session_;
    std::size_t index_;
    QPushButton* head_;
    QLabel* value_;
    QWidget* body_ = nullptr;
    QLabel* trouble_ = nullptr;
    std::vector<std::function<void()>> show_;
};

} // namespace touchmark::panels
