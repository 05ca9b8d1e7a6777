"""Forms for coming in and for one's own password."""

import wtforms
from wtforms.validators import ValidationError

from webapp.people.actions import LONGEST_NAME, LONGEST_PASSWORD, SHORTEST_PASSWORD
from webapp.web.forms import Form, Needed, longest


def long_enough(_form: wtforms.Form, field: wtforms.Field) -> None:
    if len(field.data or "") < SHORTEST_PASSWORD:
        raise ValidationError(f"At least {SHORTEST_PASSWORD} characters, please. Three or four words do well.")


class SignInForm(Form):
    name = wtforms.StringField(
        "Name", [Needed("Your name, please."), longest(LONGEST_NAME)], render_kw={"autocomplete": "username"}
    )
    password = wtforms.PasswordField(
        "Password",
        [Needed("Your password, please."), longest(LONGEST_PASSWORD)],
        render_kw={"autocomplete": "current-password"},
    )
    next = wtforms.HiddenField()
    # what was typed before signing in, and where it was going
    resend_to = wtforms.HiddenField()
    carried = wtforms.HiddenField()


class PasswordForm(Form):
    old_password = wtforms.PasswordField(
        "Password now", [longest(LONGEST_PASSWORD)], render_kw={"autocomplete": "current-password"}
    )
    password = wtforms.PasswordField(
        "New password",
        [Needed("A new password, please."), long_enough, longest(LONGEST_PASSWORD)],
        description=f"At least {SHORTEST_PASSWORD} characters. Three or four unlike words do well.",
        render_kw={"autocomplete": "new-password"},
    )
    password_again = wtforms.PasswordField(
        "New password once more", [longest(LONGEST_PASSWORD)], render_kw={"autocomplete": "new-password"}
    )

    def validate_password_again(self, field: wtforms.Field) -> None:
        if field.data != self.password.data:
            raise ValidationError("The two are not the same. Type it once more.")
