"""The two models: lines with every requirement under its guard; doses and kit versions for given lines."""
