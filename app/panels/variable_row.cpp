// SPDX-License-Identifier: MIT
#include "app/panels/variable_row.h"

#include "app/panels/combo.h"
#include "app/panels/look.h"
#include "core/content/variable_kinds.h"
#include "core/job/variables.h"

#include <QGridLayout>
#include <QLineEdit>
#include <QPushButton>

namespace touchmark::panels {
namespace {

using content::Variable;

QString braced(const std::string& name) {
    return u'{' + text(name) + u'}';
}

/// What it stands for on the first part, or why there is nothing.
Result<QString> first_value(const content::Variables& variables, const Variable& variable) {
    if (const auto* check = std::get_if<content::CheckDigit>(&variable.kind); check && check->of.empty())
        return VariableRow::tr("of the text before it");
    const auto value = content::value_of(variables, variable.name, {});
    if (!value) return std::unexpected(value.error());
    const auto* serial = std::get_if<content::Serial>(&variable.kind);
    if (serial && serial->count > 1) return text(*value) + QStringLiteral(" … ") + text(serial->text(serial->last()));
    return text(*value).simplified();
}

} // namespace

VariableRow::VariableRow(session::Session& session, std::size_t index, QWidget* parent)
    : QWidget(parent), session_(session), index_(index), head_(new QPushButton(this)), value_(new QLabel(head_)) {
    head_->setProperty("look", "row");
    head_->setCheckable(true);
    head_->setCursor(Qt::PointingHandCursor);
    value_->setAttribute(Qt::WA_TransparentForMouseEvents);
    make_quiet(*value_);
    auto* inside = new QHBoxLayout(head_);
    inside->setContentsMargins(grid, 0, grid, 0);
    inside->addStretch();
    inside->addWidget(value_);
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(grid / 2);
    layout->addWidget(head_);
    connect(head_, &QPushButton::toggled, this, &VariableRow::set_unfolded);
    refresh();
}

const Variable* VariableRow::variable() const {
    const auto& list = session_.job().variables.list;
    return index_ < list.size() ? &list[index_] : nullptr;
}

void VariableRow::refresh() {
    const Variable* shown = variable();
    if (!shown) return;
    const auto value = first_value(session_.job().variables, *shown);
    const QString name = braced(shown->name), said = value ? *value : tr("not known yet");
    head_->setText(head_->fontMetrics().elidedText(name, Qt::ElideRight, 110));
    value_->setText(value_->fontMetrics().elidedText(said, Qt::ElideMiddle, 130));
    head_->setToolTip(name + QStringLiteral(" = ") + said);
    head_->setAccessibleName(tr("Variable %1, %2: %3").arg(text(shown->name), text(row_of(shown->kind).title), said));
    if (!body_) return;
    for (const auto& show : show_)
        show();
    if (!value) complain(text(value.error().message) + u' ' + text(value.error().hint));
}

void VariableRow::set_unfolded(bool unfolded) {
    if (head_->isChecked() != unfolded) return head_->setChecked(unfolded); // comes back here
    if (unfolded == (body_ != nullptr)) return;
    if (unfolded) return unfold();
    show_.clear();
    trouble_ = nullptr;
    body_->hide();
    body_->deleteLater();
    body_ = nullptr;
}

void VariableRow::unfold() {
    if (!variable()) return;
    body_ = new QWidget(this);
    auto* fields = new QGridLayout(body_);
    fields->setContentsMargins(grid, 0, grid, grid);
    fields->setHorizontalSpacing(grid);
    fields->setVerticalSpacing(grid / 2);
    fields->setColumnMinimumWidth(0, 64);
    fields->setColumnStretch(1, 1);
    auto* kind = wrapping_label(body_);
    kind->setText(text(row_of(variable()->kind).title) + QStringLiteral(". ") + text(row_of(variable()->kind).help));
    make_quiet(*kind);
    fields->addWidget(kind, 0, 0, 1, 2);
    add_name(*fields);
    add_values(*fields);
    trouble_ = wrapping_label(body_);
    trouble_->setFont(small_font(*trouble_));
    trouble_->hide();
    fields->addWidget(trouble_, fields->rowCount(), 0, 1, 2);
    add_foot(*fields);
    static_cast<QVBoxLayout*>(layout())->addWidget(body_);
    body_->show();
    refresh();
}

void VariableRow::complain(const QString& message) {
    if (!trouble_) return;
    trouble_->setText(message.trimmed());
    trouble_->setVisible(!message.isEmpty());
}

void VariableRow::change(const QString& what, const Result<Variable>& to) {
    if (!to) return complain(text(to.error().message) + u' ' + text(to.error().hint));
    const std::string name = variable()->name;
    const Status done =
        session_.edit_merged(tr("Variable %1").arg(text(name)), QStringLiteral("variable/%1/%2").arg(index_).arg(what),
                             [name, to = *to](const job::Job& job) { return job::set_variable(job, name, to); });
    if (!done) return complain(text(done.error().message) + u' ' + text(done.error().hint));
    const auto value = variable() ? first_value(session_.job().variables, *variable()) : QString();
    complain(value ? QString() : text(value.error().message) + u' ' + text(value.error().hint));
}

QLineEdit* VariableRow::add_line(QGridLayout& fields, const QString& title, const QString& help,
                                 std::function<QString(const Variable&)> show,
                                 std::function<Result<Variable>(Variable, const QString&)> changed) {
    auto* edit = new QLineEdit(body_);
    edit->setAccessibleName(title);
    edit->setToolTip(help);
    auto* label = new QLabel(title, body_);
    label->setToolTip(help);
    label->setBuddy(edit);
    const int line = fields.rowCount();
    fields.addWidget(label, line, 0);
    fields.addWidget(edit, line, 1);
    show_.emplace_back([this, edit, show] {
        const QString shown = show(*variable());
        if (!edit->hasFocus() && edit->text() != shown) edit->setText(shown);
    });
    connect(edit, &QLineEdit::textEdited, this, [this, title, changed](const QString& typed) {
        if (variable()) change(title, changed(*variable(), typed.trimmed()));
    });
    connect(edit, &QLineEdit::editingFinished, this, [this, edit, show] {
        if (variable() && edit->text() != show(*variable())) edit->setText(show(*variable()));
    });
    return edit;
}

QComboBox* VariableRow::add_choice(QGridLayout& fields, const QString& title, const QString& help) {
    auto* box = new Combo(body_);
    box->setAccessibleName(title);
    box->setToolTip(help);
    box->setMinimumContentsLength(8);
    box->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    auto* label = new QLabel(title, body_);
    label->setToolTip(help);
    label->setBuddy(box);
    const int line = fields.rowCount();
    fields.addWidget(label, line, 0);
    fields.addWidget(box, line, 1);
    return box;
}

void VariableRow::add_name(QGridLayout& fields) {
    // Taken over when it is whole: it goes into every text that has the old one.
    const QString help = tr("Write it between braces into a text; a new name goes wherever the old one stands.");
    auto* edit = new QLineEdit(body_);
    edit->setAccessibleName(tr("Name of the variable"));
    edit->setToolTip(help);
    auto* label = new QLabel(tr("Name"), body_);
    label->setBuddy(edit);
    label->setToolTip(help);
    const int line = fields.rowCount();
    fields.addWidget(label, line, 0);
    fields.addWidget(edit, line, 1);
    show_.emplace_back([this, edit] {
        if (!edit->hasFocus()) edit->setText(text(variable()->name));
    });
    connect(edit, &QLineEdit::editingFinished, this, [this, edit] {
        if (!variable() || edit->text().trimmed() == text(variable()->name)) return;
        Variable named = *variable();
        named.name = edit->text().trimmed().toStdString();
        change(QStringLiteral("name"), named);
        if (variable()) edit->setText(text(variable()->name));
    });
}

void VariableRow::add_values(QGridLayout& fields) {
    const content::VariableKind& kind = variable()->kind;
    if (std::holds_alternative<content::FixedText>(kind)) {
        add_line(
            fields, tr("Value"), tr("What stands for it on every part."),
            [](const Variable& one) { return text(std::get<content::FixedText>(one.kind).text); },
            [](Variable one, const QString& typed) -> Result<Variable> {
                std::get<content::FixedText>(one.kind).text = typed.toStdString();
                return one;
            });
    } else if (std::holds_alternative<content::Serial>(kind)) {
        add_serial(fields);
    } else if (std::holds_alternative<content::Date>(kind)) {
        add_line(
            fields, tr("Pattern"), tr("YYYY YY MM M MMM DD D DDD, the week WW of the year GGGG or GG; 'words'."),
            [](const Variable& one) { return text(std::get<content::Date>(one.kind).pattern); },
            [](Variable one, const QString& typed) -> Result<Variable> {
                std::get<content::Date>(one.kind).pattern = typed.toStdString();
                return one;
            });
        QLineEdit* day = add_line(
            fields, tr("Day"), tr("Empty: the day on which the part is made."),
            [](const Variable& one) {
                const auto& fixed = std::get<content::Date>(one.kind).day;
                return fixed ? text(content::text_of(*fixed)) : QString();
            },
            [](Variable one, const QString& typed) -> Result<Variable> {
                auto& date = std::get<content::Date>(one.kind);
                date.day.reset();
                if (typed.isEmpty()) return one;
                const auto given = content::day_from(typed.toStdString());
                if (!given) return std::unexpected(given.error());
                date.day = *given;
                return one;
            });
        day->setPlaceholderText(tr("when it is made"));
    } else {
        add_choices(fields);
    }
}

void VariableRow::add_serial(QGridLayout& fields) {
    // "0001" to "0500": the zeros say how many figures there are.
    const auto from = [](const content::Serial& serial) { return text(serial.text(serial.start)); };
    const auto to = [](const content::Serial& serial) { return text(serial.text(serial.last())); };
    const auto step = [](const content::Serial& serial) { return QString::number(serial.step); };
    const auto made = [](Variable one, const QString& first, const QString& last,
                         const QString& by) -> Result<Variable> {
        const QString range = QStringLiteral("serial:%1..%2/%3").arg(first, last, by);
        return content::variable_from(one.name, range.toStdString());
    };
    const auto serial_of = [](const Variable& one) { return std::get<content::Serial>(one.kind); };
    add_line(
        fields, tr("From"), tr("Of the first part; leading zeros say how many figures it has."),
        [=](const Variable& one) { return from(serial_of(one)); },
        [=](const Variable& one, const QString& typed) {
            // As many numbers as before where the last one would come before the first.
            content::Serial moved = serial_of(one);
            moved.start = typed.toLongLong();
            moved.digits = static_cast<int>(std::min<qsizetype>(typed.size(), content::most_digits));
            const bool behind = moved.start > serial_of(one).last();
            return made(one, typed, behind ? to(moved) : QString::number(serial_of(one).last()), step(moved));
        });
    add_line(
        fields, tr("To"), tr("Of the last part; findings judge the worst of the whole range."),
        [=](const Variable& one) { return to(serial_of(one)); },
        [=](const Variable& one, const QString& typed) {
            return made(one, from(serial_of(one)), typed, step(serial_of(one)));
        });
    add_line(
        fields, tr("Step"), tr("From one part to the next."), [=](const Variable& one) { return step(serial_of(one)); },
        [=](const Variable& one, const QString& typed) {
            return made(one, from(serial_of(one)), to(serial_of(one)), typed);
        });
}

void VariableRow::add_choices(QGridLayout& fields) {
    if (std::holds_alternative<content::Column>(variable()->kind)) {
        QComboBox* column = add_choice(fields, tr("Column"), tr("Of the table, by its title in the first line."));
        show_.emplace_back([this, column] {
            column->clear();
            const auto& table = session_.job().variables.table;
            if (table)
                for (const std::string& title : table->columns())
                    if (!title.empty()) column->addItem(text(title));
            column->setPlaceholderText(table ? tr("Choose …") : tr("No table yet"));
            column->setEnabled(table != nullptr);
            column->setCurrentIndex(column->findText(text(std::get<content::Column>(variable()->kind).title)));
        });
        connect(column, &QComboBox::activated, this, [this, column] {
            Variable changed = *variable();
            changed.kind = content::Column{column->currentText().toStdString()};
            change(QStringLiteral("column"), changed);
        });
        return;
    }
    QComboBox* scheme = add_choice(fields, tr("Scheme"), tr("How it is computed; the reader of the part says which."));
    for (const content::CheckSchemeRow& row : content::check_schemes())
        scheme->addItem(text(row.title));
    QComboBox* of = add_choice(fields, tr("Of"), tr("What it checks."));
    show_.emplace_back([this, scheme, of] {
        const auto& check = std::get<content::CheckDigit>(variable()->kind);
        scheme->setCurrentIndex(scheme->findText(text(row_of(check.scheme).title)));
        of->clear();
        of->addItem(tr("The text before it"), QString());
        for (const Variable& one : session_.job().variables.list)
            if (one.name != variable()->name) of->addItem(braced(one.name), text(one.name));
        of->setCurrentIndex(of->findData(text(check.of)));
    });
    const auto take = [this, scheme, of] {
        Variable changed = *variable();
        changed.kind =
            content::CheckDigit{content::check_schemes()[static_cast<std::size_t>(scheme->currentIndex())].scheme,
                                of->currentData().toString().toStdString()};
        change(QStringLiteral("check"), changed);
    };
    connect(scheme, &QComboBox::activated, this, take);
    connect(of, &QComboBox::activated, this, take);
}

void VariableRow::add_foot(QGridLayout& fields) {
    auto* put = new QPushButton(tr("Put into text"), body_);
    put->setToolTip(tr("Writes it into the text of the selected mark"));
    connect(put, &QPushButton::clicked, this, [this] {
        if (variable()) emit wanted(braced(variable()->name));
    });
    auto* remove = new QPushButton(tr("Remove"), body_);
    remove->setToolTip(tr("Texts that name it keep the name; undo brings it back"));
    connect(remove, &QPushButton::clicked, this, [this] {
        if (!variable()) return;
        (void)session_.edit(tr("Remove variable"),
                            [name = variable()->name](const job::Job& job) { return job::remove_variable(job, name); });
    });
    auto* buttons = new QHBoxLayout;
    buttons->setSpacing(grid);
    buttons->setContentsMargins(0, grid / 2, 0, 0);
    buttons->addWidget(put);
    buttons->addWidget(remove);
    buttons->addStretch();
    fields.addLayout(buttons, fields.rowCount(), 0, 1, 2);
}

} // namespace touchmark::panels
