"""People, their sign-ins as rows that can be ended, and the tries that brake guessing."""

from datetime import datetime

from sqlalchemy import ForeignKey
from sqlalchemy.orm import Mapped, mapped_column, relationship

from webapp.db.base import Base


class Person(Base):
    __tablename__ = "person"

    id: Mapped[int] = mapped_column(primary_key=True)
    name: Mapped[str]
    folded: Mapped[str] = mapped_column(unique=True)
    password_hash: Mapped[str | None]  # none: may sign in on the computer the server runs on, and only there
    created_at: Mapped[datetime]

    sign_ins: Mapped[list["SignIn"]] = relationship(back_populates="person", passive_deletes=True)


class SignIn(Base):
    __tablename__ = "sign_in"

    id: Mapped[int] = mapped_column(primary_key=True)
    person_id: Mapped[int] = mapped_column(ForeignKey("person.id", ondelete="CASCADE"), index=True)
    token_hash: Mapped[str] = mapped_column(unique=True)
    device: Mapped[str]
    created_at: Mapped[datetime]
    seen_at: Mapped[datetime]
    ended_at: Mapped[datetime | None]

    person: Mapped[Person] = relationship(back_populates="sign_ins")


class LoginTry(Base):
    __tablename__ = "login_try"

    id: Mapped[int] = mapped_column(primary_key=True)
    folded: Mapped[str] = mapped_column(index=True)
    address: Mapped[str] = mapped_column(index=True)
    at: Mapped[datetime] = mapped_column(index=True)
