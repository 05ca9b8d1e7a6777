"""Room: who may come in. Accounts, sign-ins, and the brake on guessing passwords."""
