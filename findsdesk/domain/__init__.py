"""The trade's rules, pure: no window, no store, no files, no clock."""
