"""Room: a shop or a build as one file that can be put in again, and tables of costs and hours for a spreadsheet."""
