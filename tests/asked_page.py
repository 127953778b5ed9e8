"""A page asked without a screen: its answer, its refusals, what it asks, and other units."""

import pytest

from coolcalc.errors import FormError


class AskedPage:
    """A form and its ``ask``, from the values that the page starts with."""

    def __init__(self, ask, form):
        self.ask, self.form = ask, form

    def answer(self, **texts):
        return self.ask(self.form.defaults() | texts)

    def refused(self, **texts):
        with pytest.raises(FormError) as caught:
            self.answer(**texts)
        return [str(error) for error in caught.value.errors]

    def asked(self, **texts):
        values = self.form.defaults() | texts
        return {name for name, field in self.form.fields.items() if self.form.asked(field, values)}

    def in_system(self, system):
        """Return the texts that the page shows after a switch of the units."""
        defaults = self.form.defaults()
        return {"units": system} | {
            name: self.form.converted(field, defaults[name], "metric", system)
            for name, field in self.form.fields.items()
            if field.kind not in ("choice", "tick", "text")
        }

    def told_under_labels(self, says, **texts):
        """Hold that a refusal begins so, and that every one names a field as the page does."""
        told = self.refused(**texts)
        assert any(each.startswith(says) for each in told), told
        labels = tuple(f"{field.label}: " for field in self.form.fields.values())
        assert all(each.startswith(labels) for each in told), told
        assert len(told) == len(set(told))
